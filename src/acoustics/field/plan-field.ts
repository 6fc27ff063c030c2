import type { Band } from '../bands/octave-bands.ts'
import { squaredMagnitude } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { bandLinesHz } from './band-levels.ts'
import { frontTable } from './front-table.ts'
import type { RigField } from './rig-field.ts'

/** Points of a plan at one height: `columns` from xMinM to xMaxM and `rows` from zMinM to zMaxM, both ends included. */
export type PlanGrid = {
  xMinM: number
  xMaxM: number
  zMinM: number
  zMaxM: number
  columns: number
  rows: number
  heightM: number
}

/** Complex transfer on a plan, index = row × columns + column; `inside` is 1 where no listener can be, where both parts are 0. */
export type PlanPressure = { re: Float32Array; im: Float32Array; inside: Uint8Array }

/** Levels on a plan, same index; where no listener can be the level is 0 and `inside` is 1. */
export type PlanLevels = { levelDb: Float32Array; inside: Uint8Array }

/**
 * The point of a grid in the rig's coordinates.
 *
 * @param column  0 … columns − 1
 * @param row     0 … rows − 1
 */
export function planGridPoint(grid: PlanGrid, column: number, row: number): Point {
  return {
    xM: grid.xMinM + ((grid.xMaxM - grid.xMinM) * column) / (grid.columns - 1),
    yM: grid.heightM,
    zM: grid.zMinM + ((grid.zMaxM - grid.zMinM) * row) / (grid.rows - 1),
  }
}

/**
 * Checks a grid and returns it unchanged.
 *
 * @throws RangeError if a side has fewer than 2 or more than 2000 points, a limit is beyond 1000 m or out of order, or
 *         the height is outside 0 … 100 m
 */
export function checkPlanGrid(grid: PlanGrid): PlanGrid {
  requireInRange('grid.columns', grid.columns, { min: 2, max: 2000, integer: true })
  requireInRange('grid.rows', grid.rows, { min: 2, max: 2000, integer: true })
  requireInRange('grid.xMinM', grid.xMinM, { min: -1000, max: 1000, unit: 'm' })
  requireInRange('grid.zMinM', grid.zMinM, { min: -1000, max: 1000, unit: 'm' })
  requireInRange('grid.xMaxM', grid.xMaxM, { above: grid.xMinM, max: 1000, unit: 'm' })
  requireInRange('grid.zMaxM', grid.zMaxM, { above: grid.zMinM, max: 1000, unit: 'm' })
  requireInRange('grid.heightM', grid.heightM, { min: 0, max: 100, unit: 'm' })
  return grid
}

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
  shouldStop: () => boolean = () => false,
): PlanPressure | undefined {
  const { columns, rows } = checkPlanGrid(grid)
  const re = new Float32Array(columns * rows)
  const im = new Float32Array(columns * rows)
  const inside = new Uint8Array(columns * rows)
  for (let row = 0; row < rows; row++) {
    if (shouldStop()) return undefined
    for (let column = 0; column < columns; column++) {
      const index = row * columns + column
      const point = planGridPoint(grid, column, row)
      if (!field.isOpen(point)) {
        inside[index] = 1
        continue
      }
      const transfer = field.transferAt(point, frequencyHz)
      re[index] = transfer.re
      im[index] = transfer.im
    }
  }
  return { re, im, inside }
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
  const inside = new Uint8Array(columns * rows)
  for (let row = 0; row < rows; row++) {
    if (options.shouldStop?.()) return undefined
    for (let column = 0; column < columns; column++) {
      const index = row * columns + column
      const point = planGridPoint(grid, column, row)
      if (!field.isOpen(point)) {
        inside[index] = 1
        continue
      }
      levelDb[index] = levelAt(point) - frontDb(Math.hypot(point.xM, point.zM))
    }
  }
  return { levelDb, inside }
}
