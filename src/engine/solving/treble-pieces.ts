import type { DirectionTable } from '../../acoustics/index.ts'
import type { PlannedWay } from './solve-table.ts'

/** Frequencies of the treble that one question takes: some tenths of a second's work. */
const linesPerPiece = 3

/** The treble of some ways in pieces, the highest first: they take longest, and small ones fill up what is left of each core at the end. */
export const treblePieces = (ways: readonly PlannedWay[]): { way: PlannedWay; frequenciesHz: number[] }[] =>
  ways
    .flatMap((way) => pieces(way.directionsHz, linesPerPiece).map((frequenciesHz) => ({ way, frequenciesHz })))
    .sort((a, b) => (b.frequenciesHz[0] ?? 0) - (a.frequenciesHz[0] ?? 0))

/** A list in pieces of some length. */
const pieces = <T>(values: T[], length: number): T[][] =>
  Array.from({ length: Math.ceil(values.length / length) }, (_, i) => values.slice(i * length, (i + 1) * length))

/** One table of directions from its pieces, which may have come in any order. */
export function joinedPieces(parts: DirectionTable[]): DirectionTable | undefined {
  const rising = [...parts].sort((a, b) => (a.frequenciesHz[0] ?? 0) - (b.frequenciesHz[0] ?? 0))
  const [first] = rising
  return (
    first && {
      ...first,
      frequenciesHz: rising.flatMap(({ frequenciesHz }) => frequenciesHz),
      levelsDb: Float32Array.from(rising.flatMap(({ levelsDb }) => Array.from(levelsDb))),
    }
  )
}
