import {
  type Column,
  type ColumnAnswer,
  type ColumnHearing,
  type ColumnPicture,
  type ColumnPlaceId,
  columnLengthM,
} from '../../engine/column.ts'
import { createEngine, type Engine } from '../../engine/engine.ts'
import {
  type LengthUnit,
  onPreferencesChange,
  preferences,
  setPreferences,
  shownTheme,
} from '../../state/preferences.ts'
import { readLink, writeLink } from '../../state/share-link.ts'
import { type ColumnState, columnLink, columnOf } from './column-link.ts'
import { columnExtent, columnGrid } from './column-views.ts'

/** The column and the frequency that an answer is for. */
export type ColumnAsked = { column: Column; frequencyHz: number }

/** What the figure has for one preset before it is alive: computed at build. */
export type ColumnStart = { answer: ColumnAnswer; hearing: ColumnHearing }

/** The state of one column figure, and what the engine has answered for it so far. */
export class LiveColumn {
  readonly #base: ColumnState
  #engine: Engine | undefined

  state = $state({} as ColumnState)
  /** The newest answer and the question that it answers: words and lines keep to these. */
  answer = $state.raw({} as ColumnAnswer)
  answered = $state.raw({} as ColumnAsked)
  hearing = $state.raw({} as ColumnHearing)
  heardPlace = $state('behind' as ColumnPlaceId)
  /** The newest pictures and the column that they show. */
  pictures: { side: ColumnPicture; top: ColumnPicture; column: Column } | undefined = $state.raw()
  busy = $state(false)
  withoutWorkers = $state(false)
  problem = $state('')
  dropped: string[] = $state.raw([])
  units: LengthUnit = $state('m')
  theme = $state('')

  constructor(base: ColumnState, start: ColumnStart) {
    this.#base = { ...base }
    this.state = { ...base }
    this.answer = start.answer
    this.hearing = start.hearing
    this.heardPlace = base.place
    this.answered = { column: columnOf(base), frequencyHz: base.frequencyHz }
  }

  column: Column = $derived.by(() => columnOf(this.state))
  lengthM = $derived(columnLengthM(this.state))

  /** Takes over what the link says and starts answering. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped } = readLink(columnLink, new URLSearchParams(location.search), this.#base)
    Object.assign(this.state, state)
    this.dropped = dropped
    if (state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const follow = () => {
      this.units = preferences().units
      this.theme = shownTheme()
    }
    follow()
    this.#engine = createEngine()
    const systemTheme = matchMedia('(prefers-color-scheme: dark)')
    systemTheme.addEventListener('change', follow)
    const forget = onPreferencesChange(follow)
    return () => {
      forget()
      systemTheme.removeEventListener('change', follow)
      this.#engine?.dispose()
      this.#engine = undefined
    }
  }

  /** Asks for patterns and levels; the newest question wins. */
  async askAnswer(column: Column, frequencyHz: number): Promise<void> {
    await this.#ask('pattern', async (engine) => {
      const answer = await engine.ask('column', 'columnAnswer', { column, frequencyHz })
      if (!answer) return
      this.answer = answer
      this.answered = { column, frequencyHz }
    })
  }

  /** Asks for both pictures. The last ones stay until they are there. */
  async askPictures(column: Column, frequencyHz: number, kind: ColumnState['picture']): Promise<void> {
    await this.#ask('picture', async (engine) => {
      this.busy = true
      const extent = columnExtent(column)
      const ask = (view: 'side' | 'top') =>
        engine.ask(`column ${view}`, 'columnPicture', {
          column,
          frequencyHz,
          view,
          kind,
          grid: columnGrid(extent, view),
        })
      const [side, top] = await Promise.all([ask('side'), ask('top')])
      if (!side || !top) return
      this.pictures = { side, top, column }
      this.busy = false
    })
  }

  /** Asks for what one listener hears, by band. */
  async askHearing(column: Column, place: ColumnPlaceId): Promise<void> {
    await this.#ask('spectrum', async (engine) => {
      const hearing = await engine.ask('column hearing', 'columnHearing', { column, place })
      if (!hearing) return
      this.hearing = hearing
      this.heardPlace = place
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(column: Column, place: ColumnPlaceId, sampleRateHz: number) {
    return this.#engine?.ask('column responses', 'columnResponses', { column, place, sampleRateHz, length: 8192 })
  }

  async #ask(what: string, work: (engine: Engine) => Promise<void>): Promise<void> {
    if (!this.#engine) return
    try {
      await work(this.#engine)
      this.problem = ''
    } catch (error) {
      this.busy = false
      this.problem = `The ${what} could not be computed; the last one stays. (${error instanceof Error ? error.message : error})`
    }
    this.withoutWorkers = this.#engine?.withoutWorkers ?? false
  }

  /** The address that restores this state, feet or metres included. */
  address(): string {
    const state = { ...$state.snapshot(this.state), units: this.units === 'ft' ? ('ft' as const) : ('own' as const) }
    const params = writeLink(columnLink, state, new URLSearchParams(location.search), this.#base)
    const query = params.toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}
