import { type DriverLine, driverLine, levelDb, type Point, squaredMagnitude } from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import type { Picture } from '../../scene/picture.ts'
import { linesHz } from './column.ts'
import { type Column, columnBox, columnLengthM, fromFrontM, inColumn, lineOf } from './column-terms.ts'

/** Points of a picture: from behind to the front, each from top to bottom. */
export type ColumnGrid = {
  zMinM: number
  zMaxM: number
  across: number
  /** Side view: heights above the floor. Top view: left and right of the axis. */
  topM: number
  bottomM: number
  down: number
}

export type ColumnPictureQuestion = InAir & {
  column: Column
  frequencyHz: number
  /** The upright plane through the axis, or the plane through the axis across it. */
  view: 'side' | 'top'
  kind: 'waves' | 'levels'
  grid: ColumnGrid
}

/** Lines of a band in a picture of levels. */
const pictureLines = 3

/** Steps of the reference along the axis. */
const axisSteps = 160

/** Nearer to the front than this the reference along the axis is held, m. */
const nearestAxisM = 0.05

/**
 * A picture of the waves at one frequency or of the levels in its third octave, re the axis at the same distance from the middle of the
 * column's front; `inside` is 1 within the column.
 *
 * @throws RangeError for a column or a frequency out of range
 */
export function columnPicture(question: ColumnPictureQuestion): Picture {
  const { column, frequencyHz, view, kind, grid } = question
  const air = airOf(question.air)
  const line = lineOf(column)
  const { across, down } = grid
  const cells = across * down
  const points = Array.from({ length: cells }, (_, cell) => pictureColumnPoint(grid, view, column, cell))
  const inside = Uint8Array.from(points, (point) => (isInside(line, column, point) ? 1 : 0))
  const frequencies = kind === 'waves' ? [frequencyHz] : linesHz(frequencyHz, pictureLines)
  const farthestM = Math.max(
    ...[0, down - 1, cells - down, cells - 1].map((corner) => fromFrontM(points[corner] as Point)),
  )
  const re = new Float32Array(cells)
  const im = new Float32Array(cells)
  const energy = new Float64Array(cells)
  const axisEnergy = new Float64Array(axisSteps + 1)
  for (const hz of frequencies) {
    const radiation = driverLine(line, hz, air, { tabulated: true })
    for (let step = 0; step <= axisSteps; step++) {
      const zM = Math.max(nearestAxisM, (farthestM * step) / axisSteps)
      axisEnergy[step] = (axisEnergy[step] as number) + squaredMagnitude(radiation.pressureAt({ xM: 0, yM: 0, zM }))
    }
    for (let cell = 0; cell < cells; cell++) {
      if (inside[cell]) continue
      const pressure = radiation.pressureAt(outsideBody(line, points[cell] as Point))
      energy[cell] = (energy[cell] as number) + squaredMagnitude(pressure)
      re[cell] = pressure.re
      im[cell] = pressure.im
    }
  }
  const axisAt = (distanceM: number) => {
    const place = Math.min(axisSteps, (distanceM / farthestM) * axisSteps)
    const step = Math.min(axisSteps - 1, Math.floor(place))
    const below = axisEnergy[step] as number
    return below + ((axisEnergy[step + 1] as number) - below) * (place - step)
  }
  const levels = new Float32Array(cells)
  for (let cell = 0; cell < cells; cell++) {
    const axis = axisAt(fromFrontM(points[cell] as Point))
    if (kind === 'levels')
      levels[cell] = inside[cell] ? 0 : levelDb(Math.max(energy[cell] as number, 1e-12 * axis) / axis)
    const factor = 1 / Math.sqrt(axis)
    re[cell] = (re[cell] as number) * factor
    im[cell] = (im[cell] as number) * factor
  }
  const size = { columns: down, rows: across }
  return kind === 'waves' ? { kind, ...size, re, im, inside } : { kind, ...size, levelDb: levels, inside }
}

function pictureColumnPoint(grid: ColumnGrid, view: 'side' | 'top', column: Column, cell: number): Point {
  const { zMinM, zMaxM, across, topM, bottomM, down } = grid
  const zM = zMinM + ((zMaxM - zMinM) * Math.floor(cell / down)) / (across - 1)
  const sideM = topM + ((bottomM - topM) * (cell % down)) / (down - 1)
  return view === 'side' ? inColumn(column, { xM: 0, yM: sideM, zM }) : { xM: sideM, yM: 0, zM }
}

/** Whether a point in the column's own coordinates lies within its box or, between its ends, in the round body that stands for it. */
function isInside({ columnRadiusM }: DriverLine, column: Column, { xM, yM, zM }: Point): boolean {
  if (Math.abs(yM) > columnLengthM(column) / 2) return false
  const inBox = Math.abs(xM) <= columnBox.widthM / 2 && zM <= 0 && zM >= -columnBox.depthM
  return inBox || Math.hypot(xM, zM + columnRadiusM) <= columnRadiusM
}

/** Above and below the box there is air, but the round body goes on: there its nearest surface stands in. */
function outsideBody({ columnRadiusM }: DriverLine, { xM, yM, zM }: Point): Point {
  const forwardM = zM + columnRadiusM
  const outM = Math.hypot(xM, forwardM)
  if (outM >= columnRadiusM) return { xM, yM, zM }
  if (outM < 1e-9) return { xM: 0, yM, zM: -2 * columnRadiusM }
  const stretch = columnRadiusM / outM
  return { xM: xM * stretch, yM, zM: forwardM * stretch - columnRadiusM }
}
