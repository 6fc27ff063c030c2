import type { HallSize, PlanPoint, PlanWalls } from '../../acoustics/index.ts'
import { rigInHall } from './demo-hall.ts'

/** The walls of a hall on the plan, in the coordinates of the rig that stands at rigInHall. */
export const roomAround = ({ lengthM, widthM }: HallSize): PlanWalls => ({
  xMinM: -widthM / 2 - rigInHall.xM,
  xMaxM: widthM / 2 - rigInHall.xM,
  zMinM: -rigInHall.zM,
  zMaxM: lengthM - rigInHall.zM,
})

export const isInRoom = ({ xMinM, xMaxM, zMinM, zMaxM }: PlanWalls, { xM, zM }: PlanPoint): boolean =>
  xM >= xMinM && xM <= xMaxM && zM >= zMinM && zM <= zMaxM
