import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { checkCabinet, type Driver, isInsideBox } from '../radiation/cabinet.ts'
import { type CrossoverSlope, checkCrossoverSlope } from '../radiation/crossover.ts'
import { checkRearPort, type RearPort } from '../radiation/rear-port.ts'

export type { CrossoverSlope } from '../radiation/crossover.ts'

/** The drivers of one cabinet that share a frequency range, and the port that their cones breathe through. `label` is for readers only. */
export type Way = {
  name: string
  label?: string
  drivers: Driver[]
  highPass?: CrossoverSlope
  lowPass?: CrossoverSlope
  port?: RearPort
}

/**
 * A cabinet in its place. `label` is for readers only. `frontCentre` is the centre of its front face in the rig's coordinates: x right, y up from
 * the floor, z forward, front faces normally at z = 0. A yaw of 0 (the default) faces +z and turns toward +x.
 */
export type RigCabinet = {
  name: string
  label?: string
  widthM: number
  heightM: number
  depthM: number
  frontCentre: Point
  yawRad?: number
  ways: Way[]
}

/** Everything that plays together. The origin is on the floor below the middle of the rig's front. */
export type Rig = { name: string; cabinets: RigCabinet[] }

/**
 * Checks a rig and returns it unchanged.
 *
 * @param rig  1 … 32 cabinets of different names, each with 1 … 8 ways; places within 1000 m; yaw −2π … 2π; drivers
 *             on their faces (see checkCabinet), ports on the rear ones (see checkRearPort); a way's high-pass below its low-pass. A cabinet that dips below the
 *             floor is refused.
 * @throws RangeError naming the argument, its value and what is allowed
 */
export function checkRig(rig: Rig): Rig {
  requireInRange('rig.cabinets.length', rig.cabinets.length, { min: 1, max: 32, integer: true })
  const names = new Set<string>()
  for (const cabinet of rig.cabinets) {
    const label = `cabinet '${cabinet.name}'`
    if (names.has(cabinet.name)) throw new RangeError(`${label} occurs twice; allowed are different names`)
    names.add(cabinet.name)
    for (const axis of ['xM', 'yM', 'zM'] as const) {
      requireInRange(`${label}.frontCentre.${axis}`, cabinet.frontCentre[axis], { min: -1000, max: 1000, unit: 'm' })
    }
    requireInRange(`${label}.yawRad`, cabinet.yawRad ?? 0, { min: -2 * Math.PI, max: 2 * Math.PI, unit: 'rad' })
    requireInRange(`${label}.ways.length`, cabinet.ways.length, { min: 1, max: 8, integer: true })
    for (const way of cabinet.ways) {
      const wayLabel = `${label} way '${way.name}'`
      const box = checkCabinet({ ...outerSize(cabinet), drivers: way.drivers }, wayLabel)
      if (way.port) checkRearPort(box, way.port, `${wayLabel}.port`)
      if (way.highPass) checkCrossoverSlope(way.highPass, `${wayLabel}.highPass`)
      if (way.lowPass) checkCrossoverSlope(way.lowPass, `${wayLabel}.lowPass`)
      if (way.highPass && way.lowPass) {
        const below = way.lowPass.frequencyHz
        requireInRange(`${wayLabel}.highPass.frequencyHz`, way.highPass.frequencyHz, { below, unit: 'Hz' })
      }
    }
    // 1 µm of slack: 0.31 − 0.62/2 is not exactly 0 in binary
    const lowestM = cabinet.heightM / 2 - 1e-6
    requireInRange(`${label}.frontCentre.yM`, cabinet.frontCentre.yM, { min: lowestM, unit: 'm' })
  }
  return rig
}

/** A cabinet's outer size alone. */
export function outerSize(cabinet: RigCabinet): { widthM: number; heightM: number; depthM: number } {
  return { widthM: cabinet.widthM, heightM: cabinet.heightM, depthM: cabinet.depthM }
}

/**
 * A point of the rig's coordinates in a cabinet's own: origin at the centre of its front face, z out of it.
 *
 * @param cabinet  the cabinet; its yaw turns +z toward +x
 * @param point    a point in rig coordinates, m
 */
export function toCabinetPoint(cabinet: RigCabinet, point: Point): Point {
  const xM = point.xM - cabinet.frontCentre.xM
  const zM = point.zM - cabinet.frontCentre.zM
  const yawRad = cabinet.yawRad ?? 0
  const cos = Math.cos(yawRad)
  const sin = Math.sin(yawRad)
  return { xM: xM * cos - zM * sin, yM: point.yM - cabinet.frontCentre.yM, zM: xM * sin + zM * cos }
}

/** The cabinet that a point in rig coordinates lies inside of, if any; a cabinet's surface counts as outside. */
export function cabinetAround(rig: Rig, point: Point): RigCabinet | undefined {
  return rig.cabinets.find((cabinet) => isInsideBox(cabinet, toCabinetPoint(cabinet, point)))
}
