import type { Complex } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { PlanPressure } from './plan-field.ts'
import { checkPlanGrid, fillPlan, type PlanGrid } from './plan-grid.ts'

/**
 * Complex pressure on a plan of a hall, or of any field, at one frequency.
 *
 * @param pressureAt  the field, for instance from hallField or pressureField
 * @param grid        in the field's coordinates, see checkPlanGrid
 * @param options     leftOut, true for places without a value (in a cabinet, outside the hall): both parts are 0 and `inside` is 1;
 *                    shouldStop, asked once a row, true ends the work
 * @returns           the picture, or undefined if it was stopped
 * @throws RangeError for a grid out of range, or what the field throws for a place that is not left out
 */
export function planOfPressure(
  pressureAt: (point: Point) => Complex,
  grid: PlanGrid,
  options: { leftOut?: (point: Point) => boolean; shouldStop?: () => boolean } = {},
): PlanPressure | undefined {
  const { columns, rows } = checkPlanGrid(grid)
  const re = new Float32Array(columns * rows)
  const im = new Float32Array(columns * rows)
  const { leftOut, shouldStop } = options
  const inside = fillPlan(grid, { isOpen: (point) => !leftOut?.(point), shouldStop }, (index, point) => {
    const pressure = pressureAt(point)
    re[index] = requireInRange('re of the pressure', pressure.re)
    im[index] = requireInRange('im of the pressure', pressure.im)
  })
  return inside && { re, im, inside }
}
