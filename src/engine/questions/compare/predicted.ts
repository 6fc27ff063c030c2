import { distanceStepDb, type Rig } from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import { earHeightM, farthestWallM, nearestWallM } from '../../scene/scene-terms.ts'
import { levelsAt, standingRig } from '../../scene/standing-rig.ts'

/** A rig and the two places of a test, from the middle of its front, m. */
export type PredictedQuestion = InAir & {
  rig: Rig
  frontM: number
  behindM: number
  /** From the microphone behind on to a wall behind it, m; null without one. */
  wallM: number | null
  /** Whether the level behind is brought to the distance of the front. */
  bringTogether: boolean
}

export type PredictedAnswer = {
  /** Behind less front, dB, by recordingBands. */
  differenceDb: number[]
  /** Whether the wall was counted: one that is too far from the rig, or too near, is not. */
  withWall: boolean
}

/**
 * What the model expects two microphones to find: straight in front and straight behind a rig, in free air or in front of a hard wall.
 *
 * @throws RangeError  for a place inside a cabinet or a distance out of range
 */
export function predictedAnswer(question: PredictedQuestion): PredictedAnswer {
  const { rig, frontM, behindM, wallM, bringTogether, air } = question
  const gapM = wallM === null ? Number.NaN : behindM + wallM - rigDepthM(rig)
  const withWall = gapM >= nearestWallM && gapM <= farthestWallM
  const standing = standingRig(rig, withWall ? { kind: 'wall', gapM } : { kind: 'outdoors' }, airOf(air))
  const at = (zM: number) => levelsAt(standing, { xM: 0, yM: earHeightM, zM })
  const [front, behind] = [at(frontM), at(-behindM)]
  const stepDb = bringTogether ? distanceStepDb({ frontM, behindM }) : 0
  return { differenceDb: Array.from(behind, (levelDb, band) => levelDb + stepDb - (front[band] ?? 0)), withWall }
}
