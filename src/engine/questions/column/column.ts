import {
  driverLine,
  furtherBeamsRad,
  type LineRadiation,
  levelDb,
  type Point,
  squaredMagnitude,
} from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import {
  aboveDeg,
  type Column,
  type ColumnPlaceId,
  columnBands,
  columnBassHz,
  columnLengthM,
  columnPlaceIds,
  columnPlaces,
  fromFrontM,
  inColumn,
  lineOf,
  patternDeg,
} from './column-terms.ts'

const degree = Math.PI / 180

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

/** Frequencies that stand for the third octave of a nominal frequency. */
export function linesHz(nominalHz: number, count = 5): number[] {
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
  const axis = { xM: 0, yM: 0, zM: fromFrontM(here) }
  const sum = radiations.reduce(
    (energy, radiation) =>
      energy + squaredMagnitude(radiation.pressureAt(here)) / squaredMagnitude(radiation.pressureAt(axis)),
    0,
  )
  return levelDb(sum / radiations.length)
}
