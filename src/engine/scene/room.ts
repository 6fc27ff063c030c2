import type { HallSize, PlanPoint, PlanWalls, Point } from '../../acoustics/index.ts'
import { rigInHall } from './demo-hall.ts'
import type { HallDesign } from './hall-scene.ts'

/** Where a rig's origin (on the floor below the middle of its front) stands in a hall, in the hall's coordinates. It faces +z. */
export const rigPlaceIn = ({ rigAt }: Pick<HallDesign, 'rigAt'>): Point => (rigAt ? { ...rigAt, yM: 0 } : rigInHall)

/** The walls of a hall on the plan, in the coordinates of the rig that stands in it. */
export function roomAround(design: HallSize & Pick<HallDesign, 'rigAt'>): PlanWalls {
  const { lengthM, widthM } = design
  const { xM, zM } = rigPlaceIn(design)
  return { xMinM: -widthM / 2 - xM, xMaxM: widthM / 2 - xM, zMinM: -zM, zMaxM: lengthM - zM }
}

export const isInRoom = ({ xMinM, xMaxM, zMinM, zMaxM }: PlanWalls, { xM, zM }: PlanPoint): boolean =>
  xM >= xMinM && xM <= xMaxM && zM >= zMinM && zM <= zMaxM
