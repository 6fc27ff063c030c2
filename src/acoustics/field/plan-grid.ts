import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'

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
 * Goes over the places of a grid, row by row.
 *
 * @param isOpen      whether there is a value at a place
 * @param shouldStop  asked once a row; true ends the work
 * @param fill        called for each open place with its index, row × columns + column
 * @returns           1 at each place that is not open, by index; undefined if it was stopped
 */
export function fillPlan(
  grid: PlanGrid,
  { isOpen, shouldStop }: { isOpen: (point: Point) => boolean; shouldStop: (() => boolean) | undefined },
  fill: (index: number, point: Point) => void,
): Uint8Array | undefined {
  const { columns, rows } = grid
  const inside = new Uint8Array(columns * rows)
  for (let row = 0; row < rows; row++) {
    if (shouldStop?.()) return undefined
    for (let column = 0; column < columns; column++) {
      const index = row * columns + column
      const point = planGridPoint(grid, column, row)
      if (isOpen(point)) fill(index, point)
      else inside[index] = 1
    }
  }
  return inside
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
