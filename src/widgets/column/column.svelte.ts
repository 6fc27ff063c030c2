import type { ColumnAnswer, ColumnQuestion } from '../../engine/questions/column/column.ts'
import type { ColumnHearing, ColumnHearingQuestion } from '../../engine/questions/column/column-hearing.ts'
import { type Column, columnLengthM } from '../../engine/questions/column/column-terms.ts'
import type { Picture } from '../../engine/scene/picture.ts'
import type { PlaceResponses } from '../../sound/audition-types.ts'
import * as words from '../../words/words.messages.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import * as say from './column.messages.ts'
import { type ColumnState, columnLink, columnOf, highestWaveHz } from './column-link.ts'
import { columnExtent, columnGrid } from './column-views.ts'

/** What the two views show. */
export type ColumnPictured = { column: Column; frequencyHz: number; kind: ColumnState['picture'] }

/** What the figure has for one preset before it is alive: computed at build. */
export type ColumnStart = { answer: ColumnAnswer; hearing: ColumnHearing }

/** The state of one column figure, and what has been answered for it so far. */
export class LiveColumn extends LiveFigure<ColumnState> {
  /** Patterns from far away, and levels at the listeners. */
  readonly answer: Asked<ColumnQuestion, ColumnAnswer>
  /** The two views. */
  readonly pictures: Asked<ColumnPictured, { side: Picture; top: Picture }>
  /** What one listener hears, by band. */
  readonly hearing: Asked<ColumnHearingQuestion, ColumnHearing>
  /** What the listener and the axis sound like. */
  readonly sound: Hearable<object, PlaceResponses>

  protected override get atHand() {
    return ['frequencyHz', 'signal', 'level'] as const
  }

  constructor(base: ColumnState, start: ColumnStart) {
    super(columnLink, base)
    this.answer = this.asks('columnAnswer', () => ({ column: this.column, frequencyHz: this.frequencyHz }), {
      what: say.pattern(),
      first: start.answer,
    })
    this.pictures = this.works(
      () => this.pictured,
      async ({ ask }, question) => {
        const extent = columnExtent(question.column)
        const picture = (view: 'side' | 'top') =>
          ask('columnPicture', { ...question, view, grid: columnGrid(extent, view) }, view)
        const [side, top] = await Promise.all([picture('side'), picture('top')])
        return side && top && { side, top }
      },
      { what: words.picture(), still: true },
    )
    this.hearing = this.asks('columnHearing', () => this.#heard, { what: say.spectrum(), first: start.hearing })
    this.sound = this.hears('columnResponses', () => ({ ...this.#heard, length: 8192 }))
  }

  column: Column = $derived.by(() => columnOf(this.state))
  lengthM = $derived(columnLengthM(this.state))
  /** The frequency that is shown: waves are drawn up to where a picture's cells can hold them. */
  frequencyHz = $derived(
    this.state.picture === 'waves' ? Math.min(this.state.frequencyHz, highestWaveHz) : this.state.frequencyHz,
  )
  pictured: ColumnPictured = $derived.by(() => ({
    column: this.column,
    frequencyHz: this.frequencyHz,
    kind: this.state.picture,
  }))
  #heard = $derived.by(() => ({ column: this.column, place: this.state.place }))
}
