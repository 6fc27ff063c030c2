import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { distanceBetweenM, type Point } from '../point.ts'
import { farFieldDirection } from './far-field-direction.ts'
import type { Radiation } from './radiation.ts'

/**
 * Levels of a source all round it at high frequencies, averaged by energy over a sixth of an octave. Directions: azimuth from
 * the forward axis 0 … 180°, elevation −90° … 90°, both in even steps; a lopsided source, one that is not alike left and
 * right, has −180 … 180°.
 */
export type DirectionTable = {
  /** Rising, in even steps on a logarithmic scale. */
  frequenciesHz: number[]
  /** Where distances and directions are counted from: the middle of the drivers on the front face, m. */
  sourceYM: number
  lopsided?: true
  /** How many elevations there are, odd, if not 25. */
  elevations?: number
  /** |p| r, dB re 1 Pa·m, at (line × elevations + elevation) × azimuths + azimuth. */
  levelsDb: ArrayLike<number>
}

/** From 0 to 180°. */
const halfAzimuths = 37
const azimuthStepRad = Math.PI / (halfAzimuths - 1)

/** From −90° to 90°: what a table has that does not say. */
const usualElevations = 25

const azimuthsOf = ({ lopsided }: Pick<DirectionTable, 'lopsided'>): number =>
  lopsided ? 2 * halfAzimuths - 1 : halfAzimuths
const elevationsOf = ({ elevations = usualElevations }: Pick<DirectionTable, 'elevations'>): number => elevations

/** How many directions each frequency of a table has. */
export const directionCells = (table: Pick<DirectionTable, 'lopsided' | 'elevations'>): number =>
  elevationsOf(table) * azimuthsOf(table)

/** Distance at which the levels are taken, m: a usual listening distance. */
const takenAtM = 4

/** Lines that are averaged for each frequency of the table, over a sixth of an octave. */
const usualLinesAveraged = 5

export type DirectionSpec = {
  /** See DirectionTable. */
  sourceYM: number
  /** Lines of the table, Hz, rising in even steps on a logarithmic scale (see directionFrequenciesHz), or a part of them. */
  frequenciesHz: number[]
  /** The hand-over, Hz: nothing is asked for below it. */
  fromHz: number
  /** Whether left and right differ. */
  lopsided?: boolean
  /** Elevations (odd, 3 … 181, default 25) and averaged lines (1 … 50, default 5): fewer are quicker and coarser. */
  elevations?: number
  linesAveraged?: number
}

/**
 * Lines of a table of directions, Hz: even steps on a logarithmic scale.
 *
 * @throws RangeError unless toHz is above fromHz
 */
export function directionFrequenciesHz(fromHz: number, toHz: number, perOctave: number): number[] {
  requireInRange('toHz', toHz, { above: fromHz, unit: 'Hz' })
  const steps = Math.ceil(Math.log2(toHz / fromHz) * perOctave)
  return Array.from({ length: steps + 1 }, (_, step) => fromHz * (toHz / fromHz) ** (step / steps))
}

/**
 * Takes the levels of a source in all directions.
 *
 * @param pressuresFor  for the table's points, the source's pressures at a frequency; asked for frequencies up to a twelfth of an
 *                      octave beyond the lines, but never below fromHz
 * @param spec          see DirectionSpec
 * @throws RangeError   for a spec out of range
 */
export function directionTable(
  pressuresFor: (points: Point[]) => (frequencyHz: number) => Complex[],
  spec: DirectionSpec,
): DirectionTable {
  const { sourceYM, frequenciesHz, fromHz, linesAveraged = usualLinesAveraged } = spec
  for (const frequencyHz of frequenciesHz) {
    requireInRange('frequenciesHz', frequencyHz, { min: fromHz * (1 - 1e-9), unit: 'Hz' })
  }
  requireInRange('linesAveraged', linesAveraged, { min: 1, max: 50, integer: true })
  if (spec.elevations !== undefined) {
    requireInRange('elevations', spec.elevations, { min: 3, max: 181, integer: true })
    requireInRange('elevations modulo 2', spec.elevations % 2, { min: 1, max: 1 })
  }
  const frame = {
    sourceYM,
    ...(spec.lopsided && { lopsided: true as const }),
    ...(spec.elevations !== undefined && { elevations: spec.elevations }),
  }
  const cells = directionCells(frame)
  // Straight up and straight down all azimuths are one point.
  const azimuths = azimuthsOf(frame)
  const last = cells - azimuths
  const pointOf = (cell: number) => (cell < azimuths ? 0 : Math.min(cell, last) - azimuths + 1)
  const asked = Array.from({ length: pointOf(last) + 1 }, (_, point) => (point === 0 ? 0 : point + azimuths - 1))
  const pressuresAt = pressuresFor(asked.map((cell) => cellPoint(cell, frame)))
  const levelsDb = new Float32Array(frequenciesHz.length * cells)
  for (const [line, frequencyHz] of frequenciesHz.entries()) {
    const squares = new Float64Array(asked.length)
    for (let i = 0; i < linesAveraged; i++) {
      const share = linesAveraged > 1 ? i / (linesAveraged - 1) - 1 / 2 : 0
      addSquares(squares, pressuresAt(Math.max(fromHz, frequencyHz * 2 ** (share / 6))))
    }
    for (let cell = 0; cell < cells; cell++) {
      const square = squares[pointOf(cell)] as number
      levelsDb[line * cells + cell] = 10 * Math.log10((square / linesAveraged) * takenAtM ** 2)
    }
  }
  return { frequenciesHz, ...frame, levelsDb }
}

function addSquares(squares: Float64Array, pressures: readonly Complex[]): void {
  for (let point = 0; point < squares.length; point++) {
    const { re, im } = pressures[point] as Complex
    squares[point] = (squares[point] as number) + re * re + im * im
  }
}

function cellPoint(cell: number, frame: Omit<DirectionTable, 'frequenciesHz' | 'levelsDb'>): Point {
  const azimuths = azimuthsOf(frame)
  const azimuthRad = (cell % azimuths) * azimuthStepRad - (frame.lopsided ? Math.PI : 0)
  const elevationRad = (Math.floor(cell / azimuths) * Math.PI) / (elevationsOf(frame) - 1) - Math.PI / 2
  const plan = takenAtM * Math.cos(elevationRad)
  return {
    xM: plan * Math.sin(azimuthRad),
    yM: frame.sourceYM + takenAtM * Math.sin(elevationRad),
    zM: plan * Math.cos(azimuthRad),
  }
}

/**
 * Radiation above a hand-over frequency f_h from a table of directions, joined to an anchor that was solved at f_h:
 *
 *   level(x, f) = table(direction, f) − 20 lg r + [anchor(x) − table(direction, f_h) + 20 lg r] (f_h/f)²   (dB)
 *   phase(x, f) = phase of the anchor at x − (k − k_h) r
 *
 * At f_h it is the anchor itself, everywhere, so the join is continuous; above, what the anchor knows of the place fades.
 * Interference finer than a sixth of an octave is averaged out. **What goes to the rear is an estimate**, as in the model that
 * the table was taken from.
 *
 * In another air than the table's it is the same at the same wavenumber, but for the pressure's ρc.
 *
 * @param table        from directionTable, its first line at the anchor's wavenumber
 * @param frequencyHz  from the first to the last line of the table (in the table's air; in another air the same wavenumbers)
 * @param air          the medium
 * @param anchor       the source at the hand-over, in this medium
 * @param tableAir     the air in which the table was taken
 * @throws RangeError  for a frequency outside the table
 */
export function directionRadiation(
  table: DirectionTable,
  frequencyHz: number,
  air: Air,
  anchor: Radiation,
  tableAir: Pick<Air, 'speedOfSoundMps' | 'densityKgM3'> = air,
): Radiation {
  requireAir(air)
  const { frequenciesHz, sourceYM, lopsided } = table
  const azimuths = azimuthsOf(table)
  const elevations = elevationsOf(table)
  const elevationStepRad = Math.PI / (elevations - 1)
  const firstHz = frequenciesHz[0] ?? 0
  const lastHz = frequenciesHz.at(-1) ?? 0
  // The same wavenumber in the table's air.
  const tableHz = (frequencyHz * tableAir.speedOfSoundMps) / air.speedOfSoundMps
  requireInRange('frequencyHz', tableHz, { min: firstHz * (1 - 1e-9), max: lastHz * (1 + 1e-9), unit: 'Hz' })
  const louderDb =
    20 * Math.log10((air.densityKgM3 * air.speedOfSoundMps) / (tableAir.densityKgM3 * tableAir.speedOfSoundMps))
  const step = Math.max(
    0,
    Math.min(
      frequenciesHz.length - 1,
      (Math.log(tableHz / firstHz) / Math.log(lastHz / firstHz)) * (frequenciesHz.length - 1),
    ),
  )
  const below = Math.min(frequenciesHz.length - 2, Math.floor(step))
  const share = step - below
  const fade = (firstHz / tableHz) ** 2
  const extraWavenumber = (2 * Math.PI * (tableHz - firstHz)) / tableAir.speedOfSoundMps
  const source: Point = { xM: 0, yM: sourceYM, zM: 0 }

  /** |p| r, dB, in a direction: at this frequency, and at the hand-over. */
  const inDirection = (xM: number, yM: number, zM: number, r: number): { nowDb: number; thenDb: number } => {
    const elevation = Math.asin(Math.max(-1, Math.min(1, yM / r))) / elevationStepRad + (elevations - 1) / 2
    const azimuth = lopsided
      ? (Math.atan2(xM, zM) + Math.PI) / azimuthStepRad
      : Math.atan2(Math.abs(xM), zM) / azimuthStepRad
    const e = Math.min(elevations - 2, Math.floor(elevation))
    const a = Math.min(azimuths - 2, Math.floor(azimuth))
    const [u, v] = [elevation - e, azimuth - a]
    const at = (line: number): number => {
      const cell = (line * elevations + e) * azimuths + a
      const lower = (table.levelsDb[cell] as number) * (1 - v) + (table.levelsDb[cell + 1] as number) * v
      const upper =
        (table.levelsDb[cell + azimuths] as number) * (1 - v) + (table.levelsDb[cell + azimuths + 1] as number) * v
      return lower * (1 - u) + upper * u
    }
    return { nowDb: at(below) * (1 - share) + at(below + 1) * share + louderDb, thenDb: at(0) + louderDb }
  }
  const pressureAt = (point: Point): Complex => {
    const r = Math.max(1e-3, distanceBetweenM(point, source))
    const { nowDb, thenDb } = inDirection(point.xM, point.yM - sourceYM, point.zM, r)
    const joined = anchor.pressureAt(point)
    const joinedDb = 20 * Math.log10(Math.hypot(joined.re, joined.im)) + 20 * Math.log10(r)
    const factor = 10 ** ((nowDb - joinedDb + (joinedDb - thenDb) * fade) / 20)
    const [c, s] = [factor * Math.cos(extraWavenumber * r), factor * Math.sin(extraWavenumber * r)]
    return { re: joined.re * c + joined.im * s, im: joined.im * c - joined.re * s }
  }
  const farDb = (sx: number, sy: number, sz: number): number => {
    const { nowDb, thenDb } = inDirection(sx, sy, sz, 1)
    const far = 1e5
    const anchorFar = anchor.pressureAt({ xM: far * sx, yM: far * sy + sourceYM, zM: far * sz })
    return nowDb + (20 * Math.log10(Math.hypot(anchorFar.re, anchorFar.im) * far) - thenDb) * fade
  }
  let integratedPowerW: number | undefined
  const powerW = (): number => {
    integratedPowerW ??= powerOf(farDb, lopsided ? 2 * Math.PI : Math.PI, air)
    return integratedPowerW
  }
  const onAxisDb = farDb(0, 0, 1)
  return {
    frequencyHz,
    pressureAt,
    get powerW() {
      return powerW()
    },
    get directivityIndexDb() {
      return onAxisDb + 10 * Math.log10((4 * Math.PI) / (2 * air.densityKgM3 * air.speedOfSoundMps * powerW()))
    },
    farFieldDb(horizontalRad, verticalRad) {
      return farDb(...farFieldDirection(horizontalRad, verticalRad)) - onAxisDb
    },
  }
}

/** ∮ |F|² dΩ / 2ρc by the midpoint rule on a grid twice as fine as a usual table's, over the azimuths that it tells apart. */
function powerOf(farDb: (sx: number, sy: number, sz: number) => number, roundRad: number, air: Air): number {
  const rows = 2 * usualElevations
  const columns = Math.round((2 * halfAzimuths * roundRad) / Math.PI)
  let sum = 0
  for (let row = 0; row < rows; row++) {
    const sine = -1 + (2 * row + 1) / rows
    const cosine = Math.sqrt(1 - sine * sine)
    for (let column = 0; column < columns; column++) {
      const azimuthRad = (roundRad * (column + 0.5)) / columns
      sum += 10 ** (farDb(cosine * Math.sin(azimuthRad), sine, cosine * Math.cos(azimuthRad)) / 10)
    }
  }
  return (sum * 4 * Math.PI) / (rows * columns) / (2 * air.densityKgM3 * air.speedOfSoundMps)
}
