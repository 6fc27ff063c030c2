import { footprints } from '../../acoustics/index.ts'
import type { WallAnswer, WallPicture, WallQuestion } from '../../engine/questions/wall/wall.ts'
import { nearestWallHz, rigDepthM, type WallScene, wallRange } from '../../engine/questions/wall/wall-terms.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { questionOf, type WallDistanceState, wallDistanceLink } from './wall-distance-link.ts'

/** The state of one figure of the wall, and what the engine has answered for it so far. */
export class WallDistance extends RigFigure<WallDistanceState> {
  /** The newest answer and the question that it answers: sentences and charts keep to these. */
  answer = $state.raw({} as WallAnswer)
  answered = $state.raw({} as WallQuestion)
  picture: WallPicture | undefined = $state.raw()

  constructor(rigs: RigChoice[], base: WallDistanceState, initial: WallAnswer) {
    super(wallDistanceLink, rigs, base)
    this.answer = initial
    this.answered = questionOf($state.snapshot(this.state) as WallDistanceState, this.rig.rig)
  }

  depthM = $derived(rigDepthM(this.rig.rig))
  cabinets = $derived(footprints(this.rig.rig))
  question: WallQuestion = $derived.by(() => questionOf(this.state, this.rig.rig))

  /** Asks for everything but the picture; the newest question wins. */
  async askAnswer(question: WallQuestion): Promise<void> {
    await this.attempt('answer', async (engine) => {
      const answer = await engine.ask('wall', 'wallAnswer', question)
      if (!answer) return
      this.answer = answer
      this.answered = question
    })
  }

  /** Asks for the picture of the plan; the last one stays until it is there. */
  async askPicture(scene: WallScene & { frequencyHz: number }): Promise<void> {
    await this.attempt('picture', async (engine) => {
      this.busy = true
      const picture = await engine.ask('wall picture', 'wallPicture', scene)
      if (!picture) return
      this.picture = picture
      this.busy = false
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(question: WallQuestion, compare: WallDistanceState['compare'], sampleRateHz: number) {
    return this.engine?.ask('wall responses', 'wallResponses', { ...question, compare, sampleRateHz, length: 8192 })
  }

  /** Puts the back of the rig so far from the wall, to 5 cm. */
  setGap(gapM: number): void {
    this.state.gapM = within(wallRange.gapM, toFiveCm(gapM))
  }

  /** Puts the listener in front so far from the front face, to 5 cm. */
  setFront(frontM: number): void {
    this.state.frontM = within(wallRange.frontM, toFiveCm(frontM))
  }

  /** Puts the place between box and wall so far from the wall, to 5 cm; it stops at the back of the box. */
  setFromWall(fromWallM: number): void {
    this.state.fromWallM = within({ min: 0, max: this.state.gapM }, toFiveCm(fromWallM))
  }

  setFrequency(frequencyHz: number): void {
    this.state.frequencyHz = nearestWallHz(frequencyHz)
  }
}

const toFiveCm = (lengthM: number) => Math.round(lengthM * 20) / 20
const within = ({ min, max }: { min: number; max: number }, value: number) => Math.min(max, Math.max(min, value))
