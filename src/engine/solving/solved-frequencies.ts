import type { Way } from '../../acoustics/index.ts'

/** Boundary elements go up to here, Hz, unless a box is so large that they end below; above, the high-frequency model takes over. */
export const solvedCeilingHz = 2000

/** To be raised whenever the solver, its mesh or the lines change what a cabinet's table holds: kept tables are then solved anew. */
export const solvedVersion = 1

/** Above the ceiling the levels all round are kept up to here, Hz. */
export const highestHz = 25000

/** A way is solved as far as its crossover lets it be heard: three octaves on it is 72 dB down and left out. */
const octavesBeyondCrossover = 3
const lowestHz = 20

/** How closely a cabinet is solved. */
export type SolvingDetail = 'beforehand' | 'onDemand'

/**
 * Lines an octave. Between twelve, for the demo gear, the expansion is interpolated within 0.06 dB; between eight, for a
 * box that a reader waits for, within 0.1 dB, or 0.2 dB for a slim column near 2 kHz (within 20 dB of the loudest direction).
 */
export const linesPerOctave: Record<SolvingDetail, number> = { beforehand: 12, onDemand: 8 }

/**
 * Above the ceiling: lines an octave, steps up and down, and lines averaged for each. Somebody who waits gets a tenth of the
 * work. Against the finer table, two ways of a top, 2.5 to 16 kHz, in the plan and to 12° off it: front half 1 dB r.m.s.,
 * behind, where both are estimates, 2 dB r.m.s. and 7 dB at the worst place.
 */
export const directionSpec: Record<SolvingDetail, { perOctave: number; elevations?: number; linesAveraged?: number }> =
  {
    beforehand: { perOctave: 6 },
    // Steps of 15°; the plan that is walked round lies in the middle one.
    onDemand: { perOctave: 3, elevations: 13, linesAveraged: 3 },
  }

/** Fewest lines that a table can be interpolated from. */
const fewestLines = 4

/**
 * The frequencies, Hz, rising, at which a way is solved: downward from the ceiling in even steps, so that the ways of one
 * cabinet share their lines; from 20 Hz or, above a high-pass, from where the way begins to be heard.
 *
 * @param perOctave  lines an octave
 * @param ceilingHz  where boundary elements end for the way's cabinet
 */
export function solvedFrequenciesHz(
  way: Pick<Way, 'highPass' | 'lowPass'>,
  perOctave: number,
  ceilingHz = solvedCeilingHz,
): number[] {
  const crossover = way.highPass?.alignment === 'linkwitz-riley' ? way.highPass : undefined
  const fromHz = crossover ? Math.max(lowestHz, crossover.frequencyHz / 2 ** octavesBeyondCrossover) : lowestHz
  const toHz = (way.lowPass?.frequencyHz ?? Number.POSITIVE_INFINITY) * 2 ** octavesBeyondCrossover
  // A hair's breadth of slack, so that rounding does not add a line.
  const stepsDown = (frequencyHz: number) => perOctave * Math.log2(ceilingHz / frequencyHz)
  const highest = Math.max(0, Math.floor(stepsDown(toHz) + 1e-9))
  const lowest = Math.max(highest + fewestLines - 1, Math.ceil(stepsDown(fromHz) - 1e-9))
  return Array.from({ length: lowest - highest + 1 }, (_, line) => ceilingHz * 2 ** ((line - lowest) / perOctave))
}
