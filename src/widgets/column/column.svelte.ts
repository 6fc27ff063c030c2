import {
  type Column,
  type ColumnAnswer,
  type ColumnHearing,
  type ColumnPicture,
  type ColumnPlaceId,
  columnLengthM,
} from '../../engine/questions/column/column.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { type ColumnState, columnLink, columnOf } from './column-link.ts'
import { columnExtent, columnGrid } from './column-views.ts'

/** The column and the frequency that an answer is for. */
export type ColumnAsked = { column: Column; frequencyHz: number }

/** What the figure has for one preset before it is alive: computed at build. */
export type ColumnStart = { answer: ColumnAnswer; hearing: ColumnHearing }

/** The state of one column figure, and what the engine has answered for it so far. */
export class LiveColumn extends LiveFigure<ColumnState> {
  /** The newest answer and the question that it answers: words and lines keep to these. */
  answer = $state.raw({} as ColumnAnswer)
  answered = $state.raw({} as ColumnAsked)
  hearing = $state.raw({} as ColumnHearing)
  heardPlace = $state('behind' as ColumnPlaceId)
  /** The newest pictures and the column that they show. */
  pictures: { side: ColumnPicture; top: ColumnPicture; column: Column } | undefined = $state.raw()

  constructor(base: ColumnState, start: ColumnStart) {
    super(columnLink, base)
    this.answer = start.answer
    this.hearing = start.hearing
    this.heardPlace = base.place
    this.answered = { column: columnOf(base), frequencyHz: base.frequencyHz }
  }

  column: Column = $derived.by(() => columnOf(this.state))
  lengthM = $derived(columnLengthM(this.state))

  /** Asks for patterns and levels; the newest question wins. */
  async askAnswer(column: Column, frequencyHz: number): Promise<void> {
    await this.attempt('pattern', async (engine) => {
      const answer = await engine.ask('column', 'columnAnswer', { column, frequencyHz })
      if (!answer) return
      this.answer = answer
      this.answered = { column, frequencyHz }
    })
  }

  /** Asks for both pictures. The last ones stay until they are there. */
  async askPictures(column: Column, frequencyHz: number, kind: ColumnState['picture']): Promise<void> {
    await this.attempt('picture', async (engine) => {
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
    await this.attempt('spectrum', async (engine) => {
      const hearing = await engine.ask('column hearing', 'columnHearing', { column, place })
      if (!hearing) return
      this.hearing = hearing
      this.heardPlace = place
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(column: Column, place: ColumnPlaceId, sampleRateHz: number) {
    return this.engine?.ask('column responses', 'columnResponses', { column, place, sampleRateHz, length: 8192 })
  }
}
