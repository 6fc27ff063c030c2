import { createEngine, type Engine } from '../../engine/workers/engine.ts'
import {
  type LengthUnit,
  onPreferencesChange,
  preferences,
  setPreferences,
  shownTheme,
} from '../../state/preferences.ts'
import { type LinkSchema, readLink, writeLink } from '../../state/share-link.ts'

/** What a figure's link keeps: its own fields, and the units if the sender had chosen feet. */
export type FigureState = Record<string, unknown> & { units: LengthUnit | 'own' }

/**
 * What every live figure has: a state that its link restores, an engine while it is alive, the reader's units and theme,
 * and what to tell the reader when something went wrong.
 */
export class LiveFigure<S extends FigureState> {
  #link: LinkSchema<S>
  readonly #base: S
  protected engine: Engine | undefined

  state = $state({} as S)
  busy = $state(false)
  withoutWorkers = $state(false)
  problem = $state('')
  dropped: string[] = $state.raw([])
  units: LengthUnit = $state('m')
  theme = $state('')

  /**
   * @param link  the schema of the share link
   * @param base  the state that an empty link gives on this page
   */
  constructor(link: LinkSchema<S>, base: S) {
    this.#link = link
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.#base = $state.snapshot(base) as S
    this.state = { ...this.#base }
  }

  /** Changes what a link may say, for choices that are known only in the browser. To be called before `start`. */
  protected relink(link: LinkSchema<S>): void {
    this.#link = link
  }

  /** Takes over what the link says and gets ready to answer. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped } = readLink(this.#link, new URLSearchParams(location.search), this.#base)
    Object.assign(this.state, state)
    this.dropped = dropped
    if (state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const follow = () => {
      this.units = preferences().units
      this.theme = shownTheme()
    }
    follow()
    this.engine = createEngine()
    const systemTheme = matchMedia('(prefers-color-scheme: dark)')
    systemTheme.addEventListener('change', follow)
    const forget = onPreferencesChange(follow)
    return () => {
      forget()
      systemTheme.removeEventListener('change', follow)
      this.engine?.dispose()
      this.engine = undefined
    }
  }

  /** Runs a piece of work with the engine; if it fails the reader is told what could not be computed, and the last good one stays. */
  protected async attempt(what: string, work: (engine: Engine) => Promise<void>): Promise<void> {
    if (!this.engine) return
    try {
      await work(this.engine)
      this.problem = ''
    } catch (error) {
      this.busy = false
      this.problem = `The ${what} could not be computed; the last one stays. (${error instanceof Error ? error.message : error})`
    }
    this.withoutWorkers = this.engine?.withoutWorkers ?? false
  }

  /** The address that restores this state, feet or metres included; other figures' parts of the address stay. */
  address(): string {
    const units = this.units === 'ft' ? ('ft' as const) : ('own' as const)
    const state = { ...($state.snapshot(this.state) as S), units }
    const query = writeLink(this.#link, state, new URLSearchParams(location.search), this.#base).toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}
