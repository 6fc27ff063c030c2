import { clearPlace, type ListeningPlace, type Rig } from '../../acoustics/index.ts'
import type { LoudnessPattern, WalkAnswer, WalkQuestion } from '../../engine/questions/walk/walk.ts'
import type { Responses } from '../../engine/scene/responses.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import * as say from './loudness-stack.messages.ts'
import { type LoudnessStackState, loudnessStackLink } from './loudness-stack-link.ts'

/** What the figure needs of the comparison with the front. */
export type StackAnswer = LoudnessPattern & {
  /** Lowest frequency, Hz, from which what goes behind the rig is an estimate. */
  estimateFromHz: WalkAnswer['estimateFromHz']
  solved: WalkAnswer['solved']
}

/** The place of a state, moved out of the boxes if it was inside. */
export const stackPlace = (
  { angleDeg, distanceM }: { angleDeg: number; distanceM: number },
  rig: Rig,
): ListeningPlace => clearPlace({ angleRad: (angleDeg * Math.PI) / 180, distanceM }, rig)

/** The state of one loudness stack, and what has been answered for it so far. */
export class LoudnessStack extends RigFigure<LoudnessStackState> {
  /** The loudness here and in front, and what else the words about it need. */
  readonly answer: Asked<WalkQuestion, StackAnswer, { description: string; angleDeg: number }>
  /** What the two places sound like. */
  readonly sound: Hearable<object, Responses>

  protected override get atHand() {
    return ['view', 'signal', 'level'] as const
  }

  constructor(rigs: RigChoice[], base: LoudnessStackState, initial: StackAnswer) {
    super(loudnessStackLink, rigs, base)
    this.answer = this.works<WalkQuestion, StackAnswer, { description: string; angleDeg: number }>(
      () => ({ ...this.#here, referenceDbA: this.state.referenceDbA }),
      async ({ ask }, question) => {
        const [pattern, walk] = await Promise.all([ask('walkLoudness', question), ask('walkAnswer', question)])
        return pattern && walk && { ...pattern, estimateFromHz: walk.estimateFromHz, solved: walk.solved }
      },
      {
        what: say.answer(),
        first: initial,
        about: () => ({ description: this.rig.description, angleDeg: this.state.angleDeg }),
      },
    )
    this.sound = this.hears('walkResponses', () => ({ ...this.#here, length: 8192 }))
  }

  place: ListeningPlace = $derived.by(() => stackPlace(this.state, this.rig.rig))
  #here = $derived.by(() => ({ rig: this.rig.rig, place: this.place, datum: 'front-face' as const }))
}
