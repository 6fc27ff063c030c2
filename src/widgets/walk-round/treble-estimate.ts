import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import { trebleHz } from '../../engine/scene/third-octaves.ts'

/** Whether the treble here is an estimate: behind the front face, where the model of the box leaves its trusted range below it. */
export const trebleIsEstimate = (answer: WalkAnswer, angleDeg: number): boolean =>
  Math.abs(angleDeg) > 90 && answer.estimateFromHz <= trebleHz.from
