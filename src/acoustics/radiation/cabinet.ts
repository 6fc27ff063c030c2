import type { Air } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { Radiation } from './radiation.ts'

/** Size of a rectangular horn mouth and the angles that the horn covers. */
export type HornMouth = {
  mouthWidthM: number
  mouthHeightM: number
  horizontalCoverageRad: number
  verticalCoverageRad: number
}

/**
 * One radiating part of a front face. x to the right and y up from the centre of the face, in metres.
 * `gain` (default 1, may be negative) is the ratio of surface velocities, so a driver's share of the volume velocity
 * is its gain times its area; `delayS` (default 0) is e^{−jωτ}.
 */
export type Driver =
  | { kind: 'piston'; radiusM: number; xM: number; yM: number; gain?: number; delayS?: number }
  | ({ kind: 'horn'; xM: number; yM: number; gain?: number; delayS?: number } & HornMouth)

/** A rigid box with drivers on its front face. Origin: centre of the front face; the box fills z ∈ [−depth, 0]. */
export type Cabinet = { widthM: number; heightM: number; depthM: number; drivers: Driver[] }

/** Outer sizes of a box, m. */
export type BoxSize = Pick<Cabinet, 'widthM' | 'heightM' | 'depthM'>

/**
 * Any model of a cabinet: what it radiates at one frequency, in the cabinet's own coordinates and per unit total
 * volume velocity. Closed forms and boundary-element solutions share this shape, so one can stand in for the other.
 */
export type CabinetModel = (cabinet: Cabinet, frequencyHz: number, air: Air) => Radiation

/** Half of a driver's width and height on the face, m. */
export function driverHalfSizeM(driver: Driver): { halfWidthM: number; halfHeightM: number } {
  return driver.kind === 'piston'
    ? { halfWidthM: driver.radiusM, halfHeightM: driver.radiusM }
    : { halfWidthM: driver.mouthWidthM / 2, halfHeightM: driver.mouthHeightM / 2 }
}

/** Radiating area of a driver on the plane of the face, m². */
export function driverAreaM2(driver: Driver): number {
  return driver.kind === 'piston' ? Math.PI * driver.radiusM ** 2 : driver.mouthWidthM * driver.mouthHeightM
}

/**
 * What is left of the drivers' flows when they are added with their signs, of what they would be without:
 * |Σ gain · area| / Σ |gain| · area.  1: all move alike; 0: they cancel where waves are long. Delays are left out.
 *
 * @param drivers  at least one with a gain other than 0
 * @returns        0 … 1
 */
export function netFlowShare(drivers: readonly Driver[]): number {
  let net = 0
  let all = 0
  for (const driver of drivers) {
    const flow = (driver.gain ?? 1) * driverAreaM2(driver)
    net += flow
    all += Math.abs(flow)
  }
  if (!(all > 0)) throw new RangeError('drivers have no flow; allowed is at least one with a gain other than 0')
  return Math.abs(net) / all
}

/** Slack for a driver that touches the edge of its face, m: far below any drawing's accuracy, far above rounding. */
const edgeSlackM = 1e-6

/**
 * Checks a cabinet and returns it unchanged.
 *
 * @param cabinet  outer sizes 0.01 … 10 m, at least one driver, every driver wholly on the face, coverage angles
 *                 above 0 to π rad, gains −1000 … 1000 (not all zero), delays −1 … 1 s
 * @param name     how error messages call the cabinet
 * @throws RangeError naming the argument, its value and what is allowed
 */
export function checkCabinet(cabinet: Cabinet, name = 'cabinet'): Cabinet {
  const size = { min: 0.01, max: 10, unit: 'm' }
  requireInRange(`${name}.widthM`, cabinet.widthM, size)
  requireInRange(`${name}.heightM`, cabinet.heightM, size)
  requireInRange(`${name}.depthM`, cabinet.depthM, size)
  requireInRange(`${name}.drivers.length`, cabinet.drivers.length, { min: 1, max: 64, integer: true })
  cabinet.drivers.forEach((driver, index) => {
    const label = `${name}.drivers[${index}]`
    const part = { above: 0, max: 10, unit: 'm' }
    if (driver.kind === 'piston') {
      requireInRange(`${label}.radiusM`, driver.radiusM, part)
    } else if (driver.kind === 'horn') {
      const angle = { above: 0, max: Math.PI, unit: 'rad' }
      requireInRange(`${label}.mouthWidthM`, driver.mouthWidthM, part)
      requireInRange(`${label}.mouthHeightM`, driver.mouthHeightM, part)
      requireInRange(`${label}.horizontalCoverageRad`, driver.horizontalCoverageRad, angle)
      requireInRange(`${label}.verticalCoverageRad`, driver.verticalCoverageRad, angle)
    } else {
      throw new RangeError(`${label}.kind is ${String((driver as Driver).kind)}; allowed is 'piston' or 'horn'`)
    }
    const { halfWidthM, halfHeightM } = driverHalfSizeM(driver)
    const xLimitM = cabinet.widthM / 2 - halfWidthM + edgeSlackM
    const yLimitM = cabinet.heightM / 2 - halfHeightM + edgeSlackM
    if (xLimitM < 0 || yLimitM < 0) {
      throw new RangeError(
        `${label} is ${2 * halfWidthM} m wide and ${2 * halfHeightM} m high; ` +
          `allowed is at most the face of ${cabinet.widthM} m by ${cabinet.heightM} m`,
      )
    }
    requireInRange(`${label}.xM`, driver.xM, { min: -xLimitM, max: xLimitM, unit: 'm' })
    requireInRange(`${label}.yM`, driver.yM, { min: -yLimitM, max: yLimitM, unit: 'm' })
    requireInRange(`${label}.gain`, driver.gain ?? 1, { min: -1000, max: 1000 })
    requireInRange(`${label}.delayS`, driver.delayS ?? 0, { min: -1, max: 1, unit: 's' })
  })
  if (cabinet.drivers.every((driver) => driver.gain === 0)) {
    throw new RangeError(`${name}.drivers all have a gain of 0; allowed is at least one other gain`)
  }
  return cabinet
}

/** Slack within which a point counts as on the surface of the box, m. */
const surfaceSlackM = 1e-9

/** Whether a point in the cabinet's own coordinates lies inside the box (its surface is outside). */
export function isInsideBox(cabinet: BoxSize, point: Point): boolean {
  return (
    Math.abs(point.xM) < cabinet.widthM / 2 - surfaceSlackM &&
    Math.abs(point.yM) < cabinet.heightM / 2 - surfaceSlackM &&
    point.zM < -surfaceSlackM &&
    point.zM > -cabinet.depthM + surfaceSlackM
  )
}
