import { magnitude } from '../complex.ts'
import { frontTable } from './front-table.ts'
import { type PlanPressure, planPressure } from './plan-field.ts'
import { type PlanGrid, planGridPoint } from './plan-grid.ts'
import type { RigField } from './rig-field.ts'

/**
 * Waves of a rig on a plan at one frequency, each place divided by the magnitude straight in front at the same distance
 * from the middle of the rig's front: magnitude 1 is as strong as in front, the phase is the wave's own. The picture
 * at a time t is Re(p e^{jωt}).
 *
 * @param field        from rigField
 * @param grid         see checkPlanGrid
 * @param frequencyHz  above 0 … 100 000 Hz
 * @param reference    the field whose front is 1; by default this one
 * @returns            index = row × columns + column; 0 within a cabinet
 * @throws RangeError  for arguments out of range
 */
export function planWavesReFront(
  field: RigField,
  grid: PlanGrid,
  frequencyHz: number,
  reference: RigField = field,
): PlanPressure {
  const waves = planPressure(field, grid, frequencyHz) as PlanPressure
  const front = frontTable(field.rig, grid, (point) => magnitude(reference.transferAt(point, frequencyHz)))
  for (let row = 0, index = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++, index++) {
      const { xM, zM } = planGridPoint(grid, column, row)
      const strength = front(Math.hypot(xM, zM))
      const factor = strength > 0 ? 1 / strength : 0
      waves.re[index] = (waves.re[index] as number) * factor
      waves.im[index] = (waves.im[index] as number) * factor
    }
  }
  return waves
}
