import type { HornAnswer, HornQuestion } from '../../engine/questions/horn/horn.ts'
import type { PlaceResponses } from '../../sound/audition-types.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import * as say from './horn.messages.ts'
import { type HornState, hornLink, questionOf } from './horn-link.ts'

/** The state of one horn figure, and what has been answered for it so far. */
export class Horn extends LiveFigure<HornState> {
  /** Everything that the figure shows. */
  readonly answer: Asked<HornQuestion, HornAnswer>
  /** What 90° off and straight ahead sound like. */
  readonly sound: Hearable<object, PlaceResponses>

  protected override get atHand() {
    return ['frequencyHz', 'signal', 'level'] as const
  }

  constructor(base: HornState, initial: HornAnswer) {
    super(hornLink, base)
    this.answer = this.asks('hornAnswer', () => questionOf(this.state), { what: say.answer(), first: initial })
    this.sound = this.hears('hornResponses', () => {
      const { mouthM, coverageDeg } = this.state
      return { mouthM, coverageDeg, length: 8192 }
    })
  }
}
