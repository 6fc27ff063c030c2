import { footprints } from '../../acoustics/index.ts'
import type { WallAnswer, WallQuestion } from '../../engine/questions/wall/wall.ts'
import type { WallPicture } from '../../engine/questions/wall/wall-picture.ts'
import { nearestWallHz, type WallScene, wallFrequenciesHz, wallRange } from '../../engine/questions/wall/wall-terms.ts'
import { rigDepthM } from '../../engine/scene/rig-outline.ts'
import type { PlaceResponses } from '../../sound/audition-types.ts'
import * as words from '../../words/words.messages.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { questionOf, type WallDistanceState, wallDistanceLink } from './wall-distance-link.ts'

/** The state of one figure of the wall, and what has been answered for it so far. */
export class WallDistance extends RigFigure<WallDistanceState> {
  /** Everything but the picture, and what of the rig the words about it need. */
  readonly answer: Asked<WallQuestion, WallAnswer, { description: string }>
  /** The picture of the plan. */
  readonly picture: Asked<WallScene & { frequencyHz: number }, WallPicture>
  /** What two places sound like, and which two the loudness of the front belongs to. */
  readonly sound: Hearable<object, PlaceResponses>

  protected override get atHand() {
    return ['gapM', 'frontM', 'fromWallM', 'signal', 'level'] as const
  }

  constructor(rigs: RigChoice[], base: WallDistanceState, initial: WallAnswer) {
    super(wallDistanceLink, rigs, base)
    this.answer = this.asks('wallAnswer', () => this.question, {
      what: words.answer(),
      first: initial,
      about: () => ({ description: this.rig.description }),
    })
    this.picture = this.asks(
      'wallPicture',
      () => {
        const { rig, surroundings, frequencyHz } = this.question
        return { rig, surroundings, frequencyHz }
      },
      { what: words.picture(), still: true },
    )
    this.sound = this.hears('wallResponses', () => {
      const { frequencyHz: _, referenceDbA: __, ...place } = this.question
      return { ...place, frequencyHz: wallFrequenciesHz[0] as number, compare: this.state.compare, length: 8192 }
    })
  }

  depthM = $derived(rigDepthM(this.rig.rig))
  cabinets = $derived(footprints(this.rig.rig))
  question: WallQuestion = $derived.by(() => questionOf(this.state, this.rig.rig))

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
