import type { Band } from '../bands/octave-bands.ts'
import { squaredMagnitude } from '../complex.ts'
import type { Point } from '../point.ts'
import { bandLinesHz } from './band-levels.ts'
import { frontTable } from './front-table.ts'
import { checkPlanGrid, fillPlan, type PlanGrid } from './plan-grid.ts'
import type { RigField } from './rig-field.ts'

/** Complex transfer on a plan, index = row × columns + column; `inside` is 1 where no listener can be, where both parts are 0. */
export type PlanPressure = { re: Float32Array; im: Float32Array; inside: Uint8Array }

/** Levels on a plan, same index; where no listener can be the level is 0 and `inside` is 1. */
export type PlanLevels = { levelDb: Float32Array; inside: Uint8Array }

/**
 * Complex transfer function of a rig on a plan, at one frequency.
 *
 * @param field        from rigField
 * @param grid         see checkPlanGrid
 * @param frequencyHz  0 … 100 000 Hz
 * @param shouldStop   asked once a row; true ends the work
 * @returns            the picture, or undefined if it was stopped
 * @throws RangeError  for arguments out of range
 */
export function planPressure(
  field: RigField,
  grid: PlanGrid,
  frequencyHz: number,
  shouldStop?: () => boolean,
): PlanPressure | undefined {
  const { columns, rows } = checkPlanGrid(grid)
  const re = new Float32Array(columns * rows)
  const im = new Float32Array(columns * rows)
  const inside = fillPlan(grid, { isOpen: field.isOpen, shouldStop }, (index, point) => {
    const transfer = field.transferAt(point, frequencyHz)
    re[index] = transfer.re
    im[index] = transfer.im
  })
  return inside && { re, im, inside }
}

/**
 * Level of a band on a plan, dB re the place straight in front at the same distance from the middle of the rig's front
 * (x = 0, z = 0), for pink noise within the band. What is left is direction: the fall with distance cancels.
 *
 * @param field      from rigField
 * @param grid       see checkPlanGrid
 * @param band       one band
 * @param options    linesPerBand, default 3; reference, the field whose front is 0 dB, by default this one (in front of walls: the
 *                   rig in free field); shouldStop, asked once a row
 * @returns          the picture, or undefined if it was stopped
 * @throws RangeError for arguments out of range
 */
export function planLevelReFrontDb(
  field: RigField,
  grid: PlanGrid,
  band: Band,
  options: { linesPerBand?: number; reference?: RigField; shouldStop?: () => boolean } = {},
): PlanLevels | undefined {
  const { columns, rows } = checkPlanGrid(grid)
  const lines = bandLinesHz(band, options.linesPerBand ?? 3)
  const levelAt = (point: Point, of = field): number => {
    let sum = 0
    for (const frequencyHz of lines) sum += squaredMagnitude(of.transferAt(point, frequencyHz))
    return 10 * Math.log10(Math.max(sum / lines.length, Number.MIN_VALUE))
  }
  const frontDb = frontTable(field.rig, grid, (point) => levelAt(point, options.reference))
  const levelDb = new Float32Array(columns * rows)
  const { shouldStop } = options
  const inside = fillPlan(grid, { isOpen: field.isOpen, shouldStop }, (index, point) => {
    levelDb[index] = levelAt(point) - frontDb(Math.hypot(point.xM, point.zM))
  })
  return inside && { levelDb, inside }
}
