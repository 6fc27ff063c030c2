import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { Radiation } from '../radiation/radiation.ts'

/**
 * A source in its place. `radiation` tells how it radiates at a frequency, in its own coordinates; `position` is where the
 * origin of those lies. A yaw of 0 faces +z and turns toward +x. `delayS` is e^{−jωτ}; `gain` multiplies the pressure.
 */
export type PlacedSource = {
  radiation: (frequencyHz: number) => Radiation
  position: Point
  yawRad: number
  gain: number
  delayS: number
  polarity: 1 | -1
}

/** How far from the origin anything may be placed, m. */
const reach = { min: -1e5, max: 1e5, unit: 'm' }

/** Checks a point and returns it unchanged. Throws RangeError naming the coordinate if one is not finite or beyond 100 km. */
export function requirePoint(name: string, point: Point): Point {
  for (const axis of ['xM', 'yM', 'zM'] as const) requireInRange(`${name}.${axis}`, point[axis], reach)
  return point
}

/**
 * Checks a source and returns it unchanged.
 *
 * @param source  position within 100 km, yaw and gain finite, delay −100 … 100 s, polarity 1 or −1
 * @param name    how error messages call it
 * @throws RangeError naming the field, its value and what is allowed
 */
export function checkPlacedSource(source: PlacedSource, name = 'source'): PlacedSource {
  requirePoint(`${name}.position`, source.position)
  requireInRange(`${name}.yawRad`, source.yawRad, { unit: 'rad' })
  requireInRange(`${name}.gain`, source.gain)
  requireInRange(`${name}.delayS`, source.delayS, { min: -100, max: 100, unit: 's' })
  if (source.polarity !== 1 && source.polarity !== -1) {
    throw new RangeError(`${name}.polarity is ${String(source.polarity)}; allowed is 1 or -1`)
  }
  return source
}

/** A point of the room in a source's own coordinates: origin at its position, z along its yaw. */
export function toSourcePoint(source: Pick<PlacedSource, 'position' | 'yawRad'>, point: Point): Point {
  const xM = point.xM - source.position.xM
  const zM = point.zM - source.position.zM
  const cos = Math.cos(source.yawRad)
  const sin = Math.sin(source.yawRad)
  return { xM: xM * cos - zM * sin, yM: point.yM - source.position.yM, zM: xM * sin + zM * cos }
}

/** The point `distanceM` along the direction of a yaw from a point, at the same height. */
export const alongYaw = (from: Point, yawRad: number, distanceM: number): Point => ({
  xM: from.xM + distanceM * Math.sin(yawRad),
  yM: from.yM,
  zM: from.zM + distanceM * Math.cos(yawRad),
})
