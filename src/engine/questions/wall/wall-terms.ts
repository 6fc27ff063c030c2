import type { Band } from '../../../acoustics/bands/octave-bands.ts'
import type { Rig } from '../../../acoustics/field/rig.ts'
import type { InAir } from '../../scene/air.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import type { AtWall } from '../../scene/surroundings.ts'

// The terms that the wall's figure shares with its calculation, without fetching the calculation itself.

/** Ranges of the scene, m: the back of the rig to the wall, its side to a side wall, and the listener in front to the front face. */
export const wallRange = {
  gapM: { min: 0.05, max: 6 },
  sideGapM: { min: 0.05, max: 2.5 },
  frontM: { min: 1, max: 5 },
} as const

/** Frequencies that the reader looks at, Hz: steps that are easy to name, fine enough to find a dip. */
export const wallFrequenciesHz: readonly number[] = [
  ...Array.from({ length: 75 }, (_, index) => 25 + index),
  ...Array.from({ length: 76 }, (_, index) => 100 + 2 * index),
]

/** From the front face to the wall in the case that lesson 6 begins with: 3.4 m (11 ft) there and back, m. */
export const lessonFaceToWallM = 1.7

/** The curve's frequencies, Hz. */
export const wallChartHz = { min: 25, max: 500 } as const

/** Bands of 1/24 octave from 25 to 500 Hz. */
export const narrowBands: readonly Band[] = Array.from(
  { length: Math.floor(24 * Math.log2(wallChartHz.max / wallChartHz.min)) + 1 },
  (_, index) => {
    const centreHz = wallChartHz.min * 2 ** (index / 24)
    return {
      index,
      nominalHz: centreHz,
      centreHz,
      lowerHz: centreHz * 2 ** (-1 / 48),
      upperHz: centreHz * 2 ** (1 / 48),
    }
  },
)

/** A rig in front of a wall. */
export type WallScene = InAir & {
  rig: Rig
  /** Distances within wallRange. */
  surroundings: AtWall
}

/** Gap that puts the front face this far from the wall, m, kept within the range of the gap. */
export const gapOfFaceM = (faceToWallM: number, rig: Rig): number =>
  Math.min(wallRange.gapM.max, Math.max(wallRange.gapM.min, faceToWallM - rigDepthM(rig)))

/** The reader's frequency nearest to one, Hz. */
export const nearestWallHz = (frequencyHz: number): number =>
  wallFrequenciesHz.reduce((best, next) =>
    Math.abs(Math.log(next / frequencyHz)) < Math.abs(Math.log(best / frequencyHz)) ? next : best,
  )

/** The plan that the picture shows, from the wall forward and to both sides of the axis, m. */
export const wallPlanM = { forward: 12, halfWidth: 3 } as const
