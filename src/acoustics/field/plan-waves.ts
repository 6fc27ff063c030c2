import { magnitude } from '../complex.ts'
import { frontPoint } from './listening-place.ts'
import { checkPlanGrid, type PlanGrid, type PlanPressure, planPressure } from './plan-field.ts'
import { cabinetAround } from './rig.ts'
import type { RigField } from './rig-field.ts'

/** Steps of the table of front magnitudes along the axis. */
const frontSteps = 200

/**
 * Waves of a rig on a plan at one frequency, each place divided by the magnitude straight in front at the same distance
 * from the middle of the rig's front: magnitude 1 is as strong as in front, the phase is the wave's own. The picture
 * at a time t is Re(p e^{jωt}).
 *
 * Front magnitudes are tabulated in 200 even steps of distance and interpolated linearly; where the axis itself runs
 * through a cabinet, the next place outward stands in.
 *
 * @param field        from rigField
 * @param grid         see checkPlanGrid
 * @param frequencyHz  above 0 … 100 000 Hz
 * @returns            index = row × columns + column; 0 within a cabinet
 * @throws RangeError  for arguments out of range
 */
export function planWavesReFront(field: RigField, grid: PlanGrid, frequencyHz: number): PlanPressure {
  const { columns, rows, xMinM, xMaxM, zMinM, zMaxM, heightM } = checkPlanGrid(grid)
  const waves = planPressure(field, grid, frequencyHz) as PlanPressure
  const reachM = Math.hypot(Math.max(Math.abs(xMinM), Math.abs(xMaxM)), Math.max(Math.abs(zMinM), Math.abs(zMaxM)))
  const front = new Float64Array(frontSteps + 2)
  for (let step = frontSteps; step >= 0; step--) {
    const point = frontPoint((reachM * step) / frontSteps, heightM)
    front[step] = cabinetAround(field.rig, point)
      ? (front[step + 1] as number)
      : magnitude(field.transferAt(point, frequencyHz))
  }
  for (let row = 0, index = 0; row < rows; row++) {
    const zM = zMinM + ((zMaxM - zMinM) * row) / (rows - 1)
    for (let column = 0; column < columns; column++, index++) {
      const xM = xMinM + ((xMaxM - xMinM) * column) / (columns - 1)
      const place = (Math.hypot(xM, zM) / reachM) * frontSteps
      const step = Math.min(frontSteps - 1, Math.floor(place))
      const below = front[step] as number
      const strength = below + ((front[step + 1] as number) - below) * (place - step)
      const factor = strength > 0 ? 1 / strength : 0
      waves.re[index] = (waves.re[index] as number) * factor
      waves.im[index] = (waves.im[index] as number) * factor
    }
  }
  return waves
}
