import {
  type Air,
  type Complex,
  fromPolar,
  interpolatedTransfer,
  multiply,
  type Point,
  type Rig,
  type RigField,
  type WalledField,
} from '../../acoustics/index.ts'
import { late } from './responses.ts'

/** A rig in free air, and in front of walls if there are any. */
export type WalledRig = { air: Air; free: RigField; walled?: WalledField }

/** One way by which sound comes: which walls sent it, its delay, and what arrives without that delay. */
export type Arrival = { walls: readonly number[]; delayS: number; early: (frequencyHz: number) => Complex }

/**
 * The ways by which sound comes to a place. Each one's transfer function is computed at the knots without its own travel time, where
 * it is smooth, and interpolated between them; their sum is too rough for that. The travel time is put back afterwards.
 *
 * @param from     where travel times are counted from; delays are those against the direct way from there
 * @param knotsHz  rising; what is asked for later must lie within
 * @throws RangeError for a place behind a wall or inside a cabinet
 */
export function arrivalsAt(
  { air: { speedOfSoundMps }, free, walled }: WalledRig,
  listener: Point,
  from: Point,
  knotsHz: ArrayLike<number>,
): Arrival[] {
  const directM = distanceM(from, listener)
  const ways = walled?.images ?? [{ walls: [], mirrored: (point: Point) => point }]
  return ways.map(({ walls, mirrored }, index) => {
    const place = mirrored(listener)
    const travelM = distanceM(from, place)
    const early = interpolatedTransfer((frequencyHz) => {
      const ahead = fromPolar(1, (2 * Math.PI * frequencyHz * travelM) / speedOfSoundMps)
      const transfer = walled ? walled.arrivalAt(index, listener, frequencyHz) : free.transferAt(place, frequencyHz)
      return multiply(transfer, ahead)
    }, knotsHz)
    return { walls, delayS: (travelM - directM) / speedOfSoundMps, early }
  })
}

/** The sum of what comes by several ways, the direct sound at 0 s. */
export const sumOf = (arrivals: readonly Arrival[]) => (frequencyHz: number) => {
  let re = 0
  let im = 0
  for (const { early, delayS } of arrivals) {
    const arrival = multiply(early(frequencyHz), late(frequencyHz, delayS))
    re += arrival.re
    im += arrival.im
  }
  return { re, im }
}

const distanceM = (a: Point, b: Point): number => Math.hypot(a.xM - b.xM, a.yM - b.yM, a.zM - b.zM)

/** The cabinet with the highest way: it alone plays at high frequencies, where travel times matter most. */
export function highestCabinet(rig: Rig): Rig['cabinets'][number] {
  const startsHz = (cabinet: Rig['cabinets'][number]) =>
    Math.max(...cabinet.ways.map((way) => way.highPass?.frequencyHz ?? 0))
  return rig.cabinets.reduce((best, next) => (startsHz(next) > startsHz(best) ? next : best))
}
