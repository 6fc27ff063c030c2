import {
  type Air,
  bandLevelsDb,
  type Complex,
  type DriverLine,
  driverLine,
  equalGirthRadiusM,
  furtherBeamsRad,
  impulseResponse,
  interpolatedTransfer,
  type LineRadiation,
  levelDb,
  multiply,
  type Point,
  transferKnotsHz,
} from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { late, type Responses } from '../../scene/responses.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { bandsBetween, spectrumBands } from '../../scene/third-octaves.ts'

const degree = Math.PI / 180

/** Outer size of every column here, m: that of the demo column. Its length follows from the row of drivers. */
export const columnBox = { widthM: 0.11, depthM: 0.12 } as const

/** Largest driver that the box takes, m; in a close row the drivers are smaller, so that they fit. */
const largestDriverRadiusM = 0.032

/** The third octaves that can be asked for. */
export const columnBands = bandsBetween(63, 8000)

/** The bass that every sentence sets against the chosen frequency, and the direction above the axis that it names. */
export const columnBassHz = 100
export const aboveDeg = 30

/** From this third octave on, Hz, what goes beside and behind is an estimate: below it the model is within 1.5 dB of a solved box. */
export const columnEstimateFromHz = 1250

/** Ears of a seated listener, m (common practice, no source). */
export const seatedEarM = 1.2

/** A column that stands upright or leans forward about the middle of its front. */
export type Column = {
  count: number
  spacingM: number
  /** Height of the middle of its front above the floor, m. */
  heightM: number
  /** How far its axis points down, rad. */
  tiltRad: number
}

/** From one end of the row to the other with half a spacing more at each end: the length of the box, and of the line that it acts as. */
export const columnLengthM = ({ count, spacingM }: Pick<Column, 'count' | 'spacingM'>): number => count * spacingM

/** Where the four listeners are. "above" is 30° above the axis, 3 m away, wherever the axis points. */
export const columnPlaceIds = ['seated', 'standing', 'above', 'behind'] as const
export type ColumnPlaceId = (typeof columnPlaceIds)[number]

/** The listeners in the plane of the axis, m: x = 0, y above the floor, z in front of the column. */
export function columnPlaces({ heightM, tiltRad }: Pick<Column, 'heightM' | 'tiltRad'>): Record<ColumnPlaceId, Point> {
  const upRad = aboveDeg * degree - tiltRad
  return {
    seated: { xM: 0, yM: seatedEarM, zM: 2.5 },
    standing: { xM: 0, yM: earHeightM, zM: 4 },
    above: { xM: 0, yM: heightM + 3 * Math.sin(upRad), zM: 3 * Math.cos(upRad) },
    behind: { xM: 0, yM: earHeightM, zM: -2.5 },
  }
}

/** The angles, in degrees from the axis, of every pattern: from straight behind round to straight behind. */
export const patternDeg: number[] = Array.from({ length: 145 }, (_, index) => -180 + 2.5 * index)

export type ColumnAnswer = {
  lengthM: number
  wavelengthM: number
  /** Far-field levels at patternDeg, dB re the axis, third octave: up (positive) and down, and left and right. */
  verticalDb: number[]
  horizontalDb: number[]
  /** The same for the bass, columnBassHz. */
  bassVerticalDb: number[]
  bassHorizontalDb: number[]
  /** 30° above the axis and straight behind, dB re the axis. */
  aboveDb: number
  behindDb: number
  bassBehindDb: number
  /** At the listeners, dB re the axis at the same distance from the column. */
  placesDb: Record<ColumnPlaceId, number>
  /** Further beams: degrees above and below the axis, and their level there, third octave, dB re the axis. */
  furtherBeams: { angleDeg: number; levelDb: number }[]
}

export type ColumnQuestion = InAir & { column: Column; frequencyHz: number }

/**
 * The patterns of a column in one third octave, from far away, and what the listeners get at their places.
 *
 * @throws RangeError for a column that checkDriverLine refuses, or a frequency that is no nominal third octave from 63 to 8000 Hz
 */
export function columnAnswer({ column, frequencyHz, air: state }: ColumnQuestion): ColumnAnswer {
  const air = airOf(state)
  const line = lineOf(column)
  const lines = linesHz(frequencyHz).map((hz) => driverLine(line, hz, air))
  const bass = linesHz(columnBassHz).map((hz) => driverLine(line, hz, air))
  const vertical = (radiations: LineRadiation[]) => patternDeg.map((deg) => meanDb(radiations, 0, deg))
  const horizontal = (radiations: LineRadiation[]) => patternDeg.map((deg) => meanDb(radiations, deg, 0))
  const places = columnPlaces(column)
  return {
    lengthM: columnLengthM(column),
    wavelengthM: air.speedOfSoundMps / frequencyHz,
    verticalDb: vertical(lines),
    horizontalDb: horizontal(lines),
    bassVerticalDb: vertical(bass),
    bassHorizontalDb: horizontal(bass),
    aboveDb: meanDb(lines, 0, aboveDeg),
    behindDb: meanDb(lines, 180, 0),
    bassBehindDb: meanDb(bass, 180, 0),
    placesDb: Object.fromEntries(
      columnPlaceIds.map((id) => [id, placeDb(lines, column, places[id])]),
    ) as ColumnAnswer['placesDb'],
    furtherBeams: furtherBeamsRad(column.spacingM, frequencyHz, air).map((angleRad) => ({
      angleDeg: angleRad / degree,
      levelDb: meanDb(lines, 0, angleRad / degree),
    })),
  }
}

/** Points of a picture in screen order: from top to bottom, each line from behind (left) to the front (right). */
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

/** Both are re the axis at the same distance from the middle of the column's front; `inside` is 1 within the column. */
export type ColumnPicture =
  | { kind: 'waves'; across: number; re: Float32Array; im: Float32Array; inside: Uint8Array }
  | { kind: 'levels'; across: number; levelDb: Float32Array; inside: Uint8Array }

/** Lines of a band in a picture of levels. */
const pictureLines = 3

/** Steps of the reference along the axis. */
const axisSteps = 160

/** Nearer to the front than this the reference along the axis is held, m. */
const nearestAxisM = 0.05

/**
 * A picture of the waves at one frequency or of the levels in its third octave.
 *
 * @throws RangeError for a column or a frequency out of range
 */
export function columnPicture(question: ColumnPictureQuestion): ColumnPicture {
  const { column, frequencyHz, view, kind, grid } = question
  const air = airOf(question.air)
  const line = lineOf(column)
  const { across, down } = grid
  const cells = across * down
  const points = Array.from({ length: cells }, (_, cell) => pictureColumnPoint(grid, view, column, cell))
  const inside = Uint8Array.from(points, (point) => (isInside(line, column, point) ? 1 : 0))
  const frequencies = kind === 'waves' ? [frequencyHz] : linesHz(frequencyHz, pictureLines)
  const farthestM = Math.max(...[0, across - 1, cells - across, cells - 1].map((corner) => lengthOf(points[corner])))
  const re = new Float32Array(cells)
  const im = new Float32Array(cells)
  const energy = new Float64Array(cells)
  const axisEnergy = new Float64Array(axisSteps + 1)
  for (const hz of frequencies) {
    const radiation = driverLine(line, hz, air, { tabulated: true })
    for (let step = 0; step <= axisSteps; step++) {
      const zM = Math.max(nearestAxisM, (farthestM * step) / axisSteps)
      axisEnergy[step] = (axisEnergy[step] as number) + squared(radiation.pressureAt({ xM: 0, yM: 0, zM }))
    }
    for (let cell = 0; cell < cells; cell++) {
      if (inside[cell]) continue
      const pressure = radiation.pressureAt(outsideBody(line, points[cell] as Point))
      energy[cell] = (energy[cell] as number) + squared(pressure)
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
    const axis = axisAt(lengthOf(points[cell]))
    if (kind === 'levels')
      levels[cell] = inside[cell] ? 0 : levelDb(Math.max(energy[cell] as number, 1e-12 * axis) / axis)
    const factor = 1 / Math.sqrt(axis)
    re[cell] = (re[cell] as number) * factor
    im[cell] = (im[cell] as number) * factor
  }
  return kind === 'waves' ? { kind, across, re, im, inside } : { kind, across, levelDb: levels, inside }
}

export type ColumnHearingQuestion = InAir & { column: Column; place: ColumnPlaceId }

/** What one listener hears: third octaves (spectrumBands), dB re the axis at the same distance, where the column is set flat. */
export type ColumnHearing = { hereDb: number[] }

/** The spectrum at one listener's place. Throws RangeError for a column out of range. */
export function columnHearing({ column, place, air }: ColumnHearingQuestion): ColumnHearing {
  const transfer = transferReAxis(column, columnPlaces(column)[place], airOf(air))
  return { hereDb: Array.from(bandLevelsDb(transfer, spectrumBands, 6)) }
}

export type ColumnResponsesQuestion = ColumnHearingQuestion & { sampleRateHz: number; length: number }

/** Impulse responses at a listener's place and on the axis at the same distance, where the column is set flat (0 dB). */
export function columnResponses(question: ColumnResponsesQuestion): Responses {
  const { column, place, sampleRateHz, length } = question
  const spec = { sampleRateHz, length }
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / length, widestStepHz: 12, toHz: sampleRateHz / 2 })
  const here = interpolatedTransfer(transferReAxis(column, columnPlaces(column)[place], airOf(question.air)), knotsHz)
  return {
    here: impulseResponse((frequencyHz) => multiply(here(frequencyHz), late(frequencyHz)), spec),
    front: impulseResponse((frequencyHz) => late(frequencyHz), spec),
  }
}

/** Below this frequency, Hz, a transfer is that of this frequency: the sound does not change any more. */
const lowestHz = 10

/** Pressure at a place over the pressure on the axis at the same distance, as a function of frequency. */
function transferReAxis(column: Column, place: Point, air: Air): (frequencyHz: number) => Complex {
  const line = lineOf(column)
  const here = inColumn(column, place)
  const axis = { xM: 0, yM: 0, zM: lengthOf(here) }
  return (frequencyHz) => {
    const radiation = driverLine(line, Math.max(frequencyHz, lowestHz), air)
    const [a, b] = [radiation.pressureAt(here), radiation.pressureAt(axis)]
    const norm = squared(b)
    return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm }
  }
}

/** The row of drivers of a column. */
export const lineOf = ({ count, spacingM }: Pick<Column, 'count' | 'spacingM'>): DriverLine => ({
  count,
  spacingM,
  driverRadiusM: Math.min(largestDriverRadiusM, 0.45 * spacingM),
  columnRadiusM: equalGirthRadiusM(columnBox.widthM, columnBox.depthM),
})

/** A place in the hall (y above the floor) in the column's own coordinates. */
function inColumn({ heightM, tiltRad }: Pick<Column, 'heightM' | 'tiltRad'>, { xM, yM, zM }: Point): Point {
  const upM = yM - heightM
  const [cos, sin] = [Math.cos(tiltRad), Math.sin(tiltRad)]
  return { xM, yM: zM * sin + upM * cos, zM: zM * cos - upM * sin }
}

function pictureColumnPoint(grid: ColumnGrid, view: 'side' | 'top', column: Column, cell: number): Point {
  const { zMinM, zMaxM, across, topM, bottomM, down } = grid
  const zM = zMinM + ((zMaxM - zMinM) * (cell % across)) / (across - 1)
  const sideM = topM + ((bottomM - topM) * Math.floor(cell / across)) / (down - 1)
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

/** Frequencies that stand for the third octave of a nominal frequency. */
function linesHz(nominalHz: number, count = 5): number[] {
  const band = columnBands.find((known) => known.nominalHz === nominalHz)
  if (!band) throw new RangeError(`frequencyHz is ${nominalHz}; allowed is a nominal third octave from 63 to 8000 Hz`)
  const ratio = band.upperHz / band.lowerHz
  return Array.from({ length: count }, (_, index) => band.lowerHz * ratio ** ((index + 0.5) / count))
}

/** Energy average over the lines of the far-field level, each re its own axis, dB. */
function meanDb(radiations: LineRadiation[], horizontalDeg: number, verticalDeg: number): number {
  const sum = radiations.reduce(
    (energy, radiation) => energy + 10 ** (radiation.farFieldDb(horizontalDeg * degree, verticalDeg * degree) / 10),
    0,
  )
  return levelDb(sum / radiations.length)
}

/** Level of a band at a place re the axis at the same distance, dB. */
function placeDb(radiations: LineRadiation[], column: Column, place: Point): number {
  const here = inColumn(column, place)
  const axis = { xM: 0, yM: 0, zM: lengthOf(here) }
  const sum = radiations.reduce(
    (energy, radiation) => energy + squared(radiation.pressureAt(here)) / squared(radiation.pressureAt(axis)),
    0,
  )
  return levelDb(sum / radiations.length)
}

const squared = ({ re, im }: Complex): number => re * re + im * im
const lengthOf = (point: Point | undefined): number => Math.hypot(point?.xM ?? 0, point?.yM ?? 0, point?.zM ?? 0)
