import { footprints, type PlanWalls, type Rig } from '../../acoustics/index.ts'

/** What a rig takes up on the plan, in its own coordinates, m. */
export function rigOutline(rig: Rig): PlanWalls {
  const corners = footprints(rig).flatMap((footprint) => footprint.corners)
  const [xs, zs] = [corners.map(({ xM }) => xM), corners.map(({ zM }) => zM)]
  return { xMinM: Math.min(...xs), xMaxM: Math.max(...xs), zMinM: Math.min(...zs), zMaxM: Math.max(...zs) }
}

/** How far the rearmost face of a rig is behind the plane of its front, m. */
export const rigDepthM = (rig: Rig): number => -rigOutline(rig).zMinM

/** z of a wall so far behind the rearmost face of a rig, m. */
export const wallZM = (rig: Rig, gapM: number): number => rigOutline(rig).zMinM - gapM

/** x of a side wall so far from the right-hand side of a rig, m. */
export const sideWallXM = (rig: Rig, sideGapM: number): number => rigOutline(rig).xMaxM + sideGapM
