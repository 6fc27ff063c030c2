import type { Point } from '../point.ts'
import { frontPoint } from './listening-place.ts'
import type { PlanGrid } from './plan-grid.ts'
import { cabinetAround, type Rig } from './rig.ts'

/** Steps of the table along the front axis. */
const steps = 200

/**
 * A quantity straight in front of a rig as a function of the distance on the plan: tabulated in 200 even steps out to the
 * farthest corner of a grid and interpolated linearly. Where the axis runs through a cabinet, the next place outward
 * stands in.
 *
 * @param rig    the rig whose front it is
 * @param grid   limits and height of the plan
 * @param valueAt  the quantity at a point outside the cabinets
 * @returns      the quantity at a distance, m, from the middle of the rig's front
 */
export function frontTable(rig: Rig, grid: PlanGrid, valueAt: (point: Point) => number): (distanceM: number) => number {
  const { xMinM, xMaxM, zMinM, zMaxM, heightM } = grid
  const farthestM = Math.hypot(Math.max(Math.abs(xMinM), Math.abs(xMaxM)), Math.max(Math.abs(zMinM), Math.abs(zMaxM)))
  const values = new Float64Array(steps + 1)
  let outward = 0
  for (let step = steps; step >= 0; step--) {
    const point = frontPoint((farthestM * step) / steps, heightM)
    if (!cabinetAround(rig, point)) outward = valueAt(point)
    values[step] = outward
  }
  return (distanceM) => {
    const place = (distanceM / farthestM) * steps
    const step = Math.min(steps - 1, Math.floor(place))
    const below = values[step] as number
    return below + ((values[step + 1] as number) - below) * (place - step)
  }
}
