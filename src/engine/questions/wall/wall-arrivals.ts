import {
  type Air,
  type Complex,
  fromPolar,
  interpolatedTransfer,
  multiply,
  octaveTable,
  type Point,
  type Rig,
  type RigField,
  type Wall,
  type WalledField,
  walledField,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf } from '../../scene/air.ts'
import { freeField } from '../../scene/free-field.ts'
import { finishOf, rigDepthM, sideWallXM, type WallScene, wallRange } from './wall-terms.ts'

/** A rig in free air and in front of its walls. Of the walls the one behind the rig is the first. */
export type WallField = { air: Air; free: RigField; walled: WalledField; wallZM: number }

const absorptionOf = (name: string) => {
  const { frequenciesHz, absorption } = finishOf(name)
  return octaveTable(frequenciesHz, absorption)
}

/**
 * The rig in front of its walls.
 *
 * @throws RangeError for a gap out of range, an unknown finish, or a rig that is not sound
 */
export function wallField({ rig, gapM, sideGapM, floor, finish, air: state }: WallScene): WallField {
  requireInRange('gapM', gapM, { ...wallRange.gapM, unit: 'm' })
  if (sideGapM !== null) requireInRange('sideGapM', sideGapM, { ...wallRange.sideGapM, unit: 'm' })
  const ofWalls = absorptionOf(finish)
  const wallZM = -rigDepthM(rig) - gapM
  const walls: Wall[] = [{ point: { xM: 0, yM: 0, zM: wallZM }, normal: { xM: 0, yM: 0, zM: 1 }, absorption: ofWalls }]
  if (floor) {
    walls.push({
      point: { xM: 0, yM: 0, zM: 0 },
      normal: { xM: 0, yM: 1, zM: 0 },
      absorption: absorptionOf('concrete-floor'),
    })
  }
  if (sideGapM !== null) {
    walls.push({
      point: { xM: sideWallXM(rig, sideGapM), yM: 0, zM: 0 },
      normal: { xM: -1, yM: 0, zM: 0 },
      absorption: ofWalls,
    })
  }
  const air = airOf(state)
  const free = freeField(rig, air)
  return { air, free, walled: walledField(free, walls), wallZM }
}

/** One way by which sound comes: over the wall behind the rig or not, its delay, and what arrives without that delay. */
type Arrival = { overWall: boolean; delayS: number; early: (frequencyHz: number) => Complex }

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
 * The arrivals at a place. Every image's transfer function is computed at the knots without its own travel time, where it is
 * smooth, and interpolated between them; the travel time is put back afterwards. Travel times are those from the cabinet that
 * reaches highest: at high frequencies, where they matter most, it alone plays.
 *
 * @param knotsHz  rising; what is asked for later must lie within
 * @throws RangeError for a place behind a wall or inside a cabinet
 */
export function arrivalsAt({ air, free, walled }: WallField, listener: Point, knotsHz: ArrayLike<number>): Arrivals {
  const { speedOfSoundMps } = air
  const source = highestCabinet(free.rig).frontCentre
  const directM = distanceM(source, listener)
  const arrivals = walled.images.map((image, index): Arrival => {
    const place = image.mirrored(listener)
    const travelM = distanceM(source, place)
    const early = interpolatedTransfer((frequencyHz) => {
      if (frequencyHz === 0) return { re: 0, im: 0 }
      const factor = walled.factors(frequencyHz)[index] as number
      const ahead = fromPolar(factor, (2 * Math.PI * frequencyHz * travelM) / speedOfSoundMps)
      return multiply(free.transferAt(place, frequencyHz), ahead)
    }, knotsHz)
    return { overWall: image.walls.includes(0), delayS: (travelM - directM) / speedOfSoundMps, early }
  })
  const sumOf = (chosen: Arrival[]) => (frequencyHz: number) => {
    let re = 0
    let im = 0
    for (const { early, delayS } of chosen) {
      const arrival = multiply(early(frequencyHz), fromPolar(1, -2 * Math.PI * frequencyHz * delayS))
      re += arrival.re
      im += arrival.im
    }
    return { re, im }
  }
  const overWall = arrivals.filter((arrival) => arrival.overWall)
  return {
    without: sumOf(arrivals.filter((arrival) => !arrival.overWall)),
    overWall: sumOf(overWall),
    both: sumOf(arrivals),
    wallDelayS: Math.min(...overWall.map(({ delayS }) => delayS)),
    spreadS: Math.max(...arrivals.map(({ delayS }) => delayS)),
  }
}

const distanceM = (a: Point, b: Point): number => Math.hypot(a.xM - b.xM, a.yM - b.yM, a.zM - b.zM)

/** The cabinet with the highest way. */
function highestCabinet(rig: Rig): Rig['cabinets'][number] {
  const startsHz = (cabinet: Rig['cabinets'][number]) =>
    Math.max(...cabinet.ways.map((way) => way.highPass?.frequencyHz ?? 0))
  return rig.cabinets.reduce((best, next) => (startsHz(next) > startsHz(best) ? next : best))
}
