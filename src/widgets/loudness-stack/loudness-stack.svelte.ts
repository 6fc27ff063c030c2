import { clearPlace, type ListeningPlace, type Rig } from '../../acoustics/index.ts'
import type { LoudnessPattern, WalkAnswer } from '../../engine/questions/walk/walk.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { type LoudnessStackState, loudnessStackLink } from './loudness-stack-link.ts'

/** What the figure needs of the comparison with the front. */
export type StackAnswer = LoudnessPattern & {
  /** Lowest frequency, Hz, from which what goes behind the rig is an estimate. */
  estimateFromHz: WalkAnswer['estimateFromHz']
  solved: WalkAnswer['solved']
  /** Direction that the answer is for, degrees. */
  angleDeg: number
}

/** The place of a state, moved out of the boxes if it was inside. */
export const stackPlace = (
  { angleDeg, distanceM }: { angleDeg: number; distanceM: number },
  rig: Rig,
): ListeningPlace => clearPlace({ angleRad: (angleDeg * Math.PI) / 180, distanceM }, rig)

/** The state of one loudness stack, and what the engine has answered for it so far. */
export class LoudnessStack extends RigFigure<LoudnessStackState> {
  answer = $state.raw({} as StackAnswer)

  constructor(rigs: RigChoice[], base: LoudnessStackState, initial: StackAnswer) {
    super(loudnessStackLink, rigs, base)
    this.answer = initial
  }

  place: ListeningPlace = $derived.by(() => stackPlace(this.state, this.rig.rig))

  /** Asks for the loudness here and in front; the newest place wins. */
  async ask(rig: Rig, place: ListeningPlace, referenceDbA: number, angleDeg: number): Promise<void> {
    await this.attempt('loudness', async (engine) => {
      const question = { rig, place, datum: 'front-face', referenceDbA } as const
      const [pattern, walk] = await Promise.all([
        engine.ask('loudness', 'walkLoudness', question),
        engine.ask('walk', 'walkAnswer', question),
      ])
      if (!pattern || !walk) return
      this.answer = { ...pattern, estimateFromHz: walk.estimateFromHz, solved: walk.solved, angleDeg }
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(rig: Rig, place: ListeningPlace, sampleRateHz: number) {
    return this.engine?.ask('responses', 'walkResponses', {
      rig,
      place,
      datum: 'front-face',
      sampleRateHz,
      length: 8192,
    })
  }
}
