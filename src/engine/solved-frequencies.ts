import type { Way } from '../acoustics/index.ts'

/** Boundary elements go up to here, Hz; above it the high-frequency model takes over. */
export const solvedCeilingHz = 2000

/** Above the ceiling the levels all round are kept up to here, so many times an octave. */
export const highestHz = 25000
export const directionLines = 6

/** A way is solved as far as its crossover lets it be heard: three octaves on it is 72 dB down and left out. */
const octavesBeyondCrossover = 3

/** Lines an octave; between them the expansion is interpolated within 0.05 dB. */
const linesPerOctave = 12

/**
 * The frequencies, Hz, at which a demo rig's way is solved: twelve to the octave up to 2 kHz, from 20 Hz or, above a
 * high-pass, from where the way begins to be heard.
 */
export function solvedFrequenciesHz(way: Way): number[] {
  const crossover = way.highPass?.alignment === 'linkwitz-riley' ? way.highPass : undefined
  const fromHz = crossover ? Math.max(20, crossover.frequencyHz / 2 ** octavesBeyondCrossover) : 20
  const toHz = Math.min(
    solvedCeilingHz,
    (way.lowPass?.frequencyHz ?? Number.POSITIVE_INFINITY) * 2 ** octavesBeyondCrossover,
  )
  const steps = Math.max(3, Math.ceil(Math.log2(toHz / fromHz) * linesPerOctave))
  return Array.from({ length: steps + 1 }, (_, step) => fromHz * (toHz / fromHz) ** (step / steps))
}
