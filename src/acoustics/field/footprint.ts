import { requireInRange } from '../numeric-range.ts'
import type { Rig, RigCabinet } from './rig.ts'

/** A place on the plan: x right, z forward, m. */
export type PlanPoint = { xM: number; zM: number }

/** What a cabinet covers on the plan: a rectangle, its corners in order front left, front right, rear right, rear left. */
export type Footprint = { name: string; corners: [PlanPoint, PlanPoint, PlanPoint, PlanPoint] }

/** The plan rectangles of a rig's cabinets, in the rig's order, whatever their height above the floor. */
export function footprints(rig: Rig): Footprint[] {
  return rig.cabinets.map((cabinet) => {
    const yawRad = cabinet.yawRad ?? 0
    const cos = Math.cos(yawRad)
    const sin = Math.sin(yawRad)
    const corner = (x: number, z: number): PlanPoint => ({
      xM: cabinet.frontCentre.xM + x * cos + z * sin,
      zM: cabinet.frontCentre.zM - x * sin + z * cos,
    })
    const half = cabinet.widthM / 2
    return {
      name: cabinet.name,
      corners: [corner(-half, 0), corner(half, 0), corner(half, -cabinet.depthM), corner(-half, -cabinet.depthM)],
    }
  })
}

/**
 * Distance on the plan from a place to one cabinet's rectangle, m; 0 inside it.
 *
 * @throws RangeError if the place is not finite
 */
export function distanceToFootprintM(cabinet: RigCabinet, place: PlanPoint): number {
  const dx = requireInRange('place.xM', place.xM, { unit: 'm' }) - cabinet.frontCentre.xM
  const dz = requireInRange('place.zM', place.zM, { unit: 'm' }) - cabinet.frontCentre.zM
  const yawRad = cabinet.yawRad ?? 0
  const x = dx * Math.cos(yawRad) - dz * Math.sin(yawRad)
  const z = dx * Math.sin(yawRad) + dz * Math.cos(yawRad)
  const beside = Math.max(0, Math.abs(x) - cabinet.widthM / 2)
  const beyond = Math.max(0, z, -cabinet.depthM - z)
  return Math.hypot(beside, beyond)
}
