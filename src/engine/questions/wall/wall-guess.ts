import { dipsHz, type Rig, risesHz } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { type WallExtreme, wallChanges } from './wall-extremes.ts'
import { gapOfFaceM, lessonFaceToWallM, wallFrequenciesHz } from './wall-terms.ts'

/** What the guess is held against: the lesson's case of a rig in front of a hard wall, heard 4 m in front. */
export type WallGuess = {
  thereAndBackM: number
  ruleDipHz: number
  ruleRiseHz: number
  ruleSecondDipHz: number
  dip: WallExtreme
  secondDip: WallExtreme
  /** What the wall changes in front, dB, at each of wallFrequenciesHz. */
  changesDb: number[]
}

/** Throws Error if the rig is so deep that it does not fit into the lesson's case. */
export function guessedWall(rig: Rig): WallGuess {
  const thereAndBackM = 2 * lessonFaceToWallM
  const gapM = gapOfFaceM(lessonFaceToWallM, rig)
  const surroundings = { kind: 'wall', gapM, finish: 'hard-walls' } as const
  const scene = { rig, surroundings, frontM: 4, air: usualAir }
  const { changesDb, dips } = wallChanges(scene, wallFrequenciesHz)
  const air = airOf(usualAir)
  const [ruleDipHz, ruleSecondDipHz] = dipsHz(thereAndBackM, 1000, air)
  const [ruleRiseHz] = risesHz(thereAndBackM, 1000, air)
  const [dip, secondDip] = dips
  if (!dip || !secondDip || !ruleDipHz || !ruleSecondDipHz || !ruleRiseHz)
    throw new Error('the guess needs two dips in front of the rig')
  return { thereAndBackM, ruleDipHz, ruleRiseHz, ruleSecondDipHz, dip, secondDip, changesDb }
}
