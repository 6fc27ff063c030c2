import { bandLevelsDb, type Complex, type Point, type WalledField } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf } from '../../scene/air.ts'
import { arrivalsAt, highestCabinet, sumOf } from '../../scene/arrivals.ts'
import { wallZM } from '../../scene/rig-outline.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { type StandingRig, standingRig } from '../../scene/standing-rig.ts'
import type { AtWall } from '../../scene/surroundings.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { type WallScene, wallRange } from './wall-terms.ts'

/** A rig in free air and in front of its walls. Of the walls the one behind the rig is the first. */
export type WallField = StandingRig & { walled: WalledField; wallZM: number }

/**
 * The rig in front of its walls.
 *
 * @throws RangeError for a gap out of range, an unknown finish, or a rig that is not sound
 */
export function wallField({ rig, surroundings, air }: WallScene): WallField {
  const { gapM, sideGapM } = surroundings
  requireInRange('gapM', gapM, { ...wallRange.gapM, unit: 'm' })
  if (typeof sideGapM === 'number') requireInRange('sideGapM', sideGapM, { ...wallRange.sideGapM, unit: 'm' })
  const standing = standingRig(rig, surroundings, airOf(air))
  return { ...standing, walled: standing.walled as WalledField, wallZM: wallZM(rig, gapM) }
}

/** Where the listeners are, on the axis: from the front face to the one in front, and from the wall to the one behind, m. */
type WallPlaces = { surroundings: AtWall; frontM: number; fromWallM: number }

/** @throws RangeError for a distance out of range, or a place behind the box's back */
export function requireWallPlaces({ surroundings: { gapM }, frontM, fromWallM }: WallPlaces): void {
  requireInRange('frontM', frontM, { ...wallRange.frontM, unit: 'm' })
  const deepestM = requireInRange('gapM', gapM, { ...wallRange.gapM, unit: 'm' })
  requireInRange('fromWallM', fromWallM, { min: 0, max: deepestM, unit: 'm' })
}

/** Both listeners. */
export const wallPlaces = (
  { frontM, fromWallM }: WallPlaces,
  { wallZM }: WallField,
): { front: Point; rear: Point } => ({
  front: { xM: 0, yM: earHeightM, zM: frontM },
  rear: { xM: 0, yM: earHeightM, zM: wallZM + fromWallM },
})

/** Lines of a third octave of the smooth part; 24 an octave. */
const knotsPerOctave = 24
export const answerKnotsHz = Array.from({ length: 10 * knotsPerOctave + 4 }, (_, i) => 18 * 2 ** (i / knotsPerOctave))

/** What arrives at one place, by frequency: without the wall behind the rig, over that wall alone, and both. */
export type Arrivals = {
  without(frequencyHz: number): Complex
  overWall(frequencyHz: number): Complex
  both(frequencyHz: number): Complex
  /** By how much the first sound over the wall is late, s. */
  wallDelayS: number
  /** The longest way round over the shortest, s: the sum ripples over a frequency as small as one over this. */
  spreadS: number
}

/**
 * The arrivals at a place, with the travel times from the cabinet that reaches highest.
 *
 * @param knotsHz  rising; what is asked for later must lie within
 * @throws RangeError for a place behind a wall or inside a cabinet
 */
export function arrivalsIn(field: WallField, listener: Point, knotsHz: ArrayLike<number>): Arrivals {
  const arrivals = arrivalsAt(field, listener, highestCabinet(field.rig).frontCentre, knotsHz)
  const overWall = arrivals.filter(({ walls }) => walls.includes(0))
  return {
    without: sumOf(arrivals.filter(({ walls }) => !walls.includes(0))),
    overWall: sumOf(overWall),
    both: sumOf(arrivals),
    wallDelayS: Math.min(...overWall.map(({ delayS }) => delayS)),
    spreadS: Math.max(...arrivals.map(({ delayS }) => delayS)),
  }
}

/** Third-octave levels of heardBands: lines close enough for the ripple that the longest way round makes. */
export function thirdOctavesDb(transfer: (frequencyHz: number) => Complex, spreadS: number): Float64Array {
  return Float64Array.from(heardBands, (band) => {
    const ripples = (band.upperHz - band.lowerHz) * spreadS
    return bandLevelsDb(transfer, [band], Math.min(1000, 8 + Math.ceil(5 * ripples)))[0] as number
  })
}
