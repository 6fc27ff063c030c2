import type { Way } from '../../acoustics/index.ts'

/** Boundary elements go up to here, Hz, unless a box is so large that they end below; above, the high-frequency model takes over. */
export const solvedCeilingHz = 2000

/** To be raised whenever the solver, its mesh or the lines change what a cabinet's table holds: kept tables are then solved anew. */
export const solvedVersion = 3

/** Above the ceiling the levels all round are kept up to here, Hz. */
export const highestHz = 25000

/** A way is solved as far as its crossover lets it be heard: three octaves on it is 72 dB down and left out. */
const octavesBeyondCrossover = 3
const lowestHz = 20

/** How closely a cabinet is solved. */
export type SolvingDetail = 'beforehand' | 'onDemand'

/** Where lines stand: no farther apart than a part of an octave, nor than the wave turns over the radius of the box's sphere. */
export type LineSteps = { perOctave: number; radians: number }

/**
 * What an expansion is interpolated through is smooth in the frequency itself, so that lines need not get closer together downward
 * than a part of an octave, nor, where the wave is short against the box, than a turn of kR. Greatest error within 20 dB of the loudest direction,
 * against solving the line: for the demo gear (beforehand) 0.06 dB; on demand, for whom a reader waits, 0.05 dB for boxes of 0.12 to 1 m.
 * Thirds of an octave would leave 0.12 dB, eighths, which are as many lines, 0.2 dB.
 */
export const lineSteps: Record<SolvingDetail, LineSteps> = {
  beforehand: { perOctave: 12, radians: Number.POSITIVE_INFINITY },
  onDemand: { perOctave: 6, radians: 0.5 },
}

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
 * The frequencies, Hz, rising, at which a way is solved: downward from the ceiling, so that the ways of one cabinet share their
 * lines; from 20 Hz or, above a high-pass, from where the way begins to be heard.
 *
 * @param steps      see LineSteps
 * @param radianHz   frequency at which kR of the box's sphere is 1
 * @param ceilingHz  where boundary elements end for the way's cabinet
 */
export function solvedFrequenciesHz(
  way: Pick<Way, 'highPass' | 'lowPass'>,
  { perOctave, radians }: LineSteps,
  radianHz: number,
  ceilingHz = solvedCeilingHz,
): number[] {
  const crossover = way.highPass?.alignment === 'linkwitz-riley' ? way.highPass : undefined
  const fromHz = crossover ? Math.max(lowestHz, crossover.frequencyHz / 2 ** octavesBeyondCrossover) : lowestHz
  const toHz = (way.lowPass?.frequencyHz ?? Number.POSITIVE_INFINITY) * 2 ** octavesBeyondCrossover
  // A hair's breadth of slack, so that rounding does not add a line.
  const slack = 1e-9
  const lines: number[] = []
  for (const frequencyHz of fallingHz(ceilingHz, radians * radianHz, perOctave)) {
    if (frequencyHz >= toHz * (1 - slack)) lines.length = 0
    lines.push(frequencyHz)
    if (lines.length >= fewestLines && frequencyHz <= fromHz * (1 + slack)) break
  }
  return lines.toReversed()
}

/**
 * Down from a frequency without end: by even steps as long as they are the shorter ones, then by parts of an octave. The first
 * even step is a half one, because at the end of a table there are lines on one side only.
 */
function* fallingHz(ceilingHz: number, stepHz: number, perOctave: number): Generator<number, never> {
  let evenHz = ceilingHz
  while (stepHz < evenHz * (1 - 2 ** (-1 / perOctave))) {
    yield evenHz
    evenHz -= evenHz === ceilingHz ? stepHz / 2 : stepHz
  }
  for (let line = 0; ; line++) yield evenHz * 2 ** (-line / perOctave)
}
