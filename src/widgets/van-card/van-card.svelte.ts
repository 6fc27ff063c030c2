import type { CardAnswer, CardQuestion } from '../../engine/questions/card/card-terms.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import * as say from './van-card.messages.ts'
import { type VanCardState, vanCardLink } from './van-card-link.ts'

/** The card for the van: which rig it is for, and that rig's numbers. */
export class VanCard extends RigFigure<VanCardState> {
  /** The numbers, and which rig and air they are of. */
  readonly answer: Asked<CardQuestion, CardAnswer, { short: string }>

  constructor(rigs: RigChoice[], initial: CardAnswer) {
    super(vanCardLink, rigs, { rig: rigs[0]?.key ?? '', units: 'own' })
    this.answer = this.asks('cardAnswer', () => ({ rig: this.rig.rig }), {
      what: say.answer(),
      first: initial,
      about: () => ({ short: this.rig.short }),
    })
  }
}
