import { type Complex, squaredMagnitude } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/** One line of a narrow-band curve. */
export type NarrowBandLevel = { frequencyHz: number; levelDb: number }

/** Most lines of a curve. */
const mostLines = 20000

/**
 * The frequencies of a narrow-band curve: even steps of 1/N octave, both ends included as nearly as the step allows.
 *
 * @param fromHz     lowest, above 0 to 1 000 000 Hz
 * @param toHz       highest, not below fromHz
 * @param perOctave  N, 1 … 1000, default 24: a dip of one sixth of an octave shows as four lines
 * @throws RangeError for an argument outside its range, or more than 20 000 lines
 */
export function narrowBandLinesHz(fromHz: number, toHz: number, perOctave = 24): number[] {
  requireInRange('fromHz', fromHz, { above: 0, max: 1e6, unit: 'Hz' })
  requireInRange('toHz', toHz, { min: fromHz, max: 1e6, unit: 'Hz' })
  requireInRange('perOctave', perOctave, { min: 1, max: 1000 })
  const steps = Math.floor(Math.log2(toHz / fromHz) * perOctave + 1e-9)
  requireInRange('number of lines', steps + 1, { max: mostLines })
  return Array.from({ length: steps + 1 }, (_, step) => fromHz * 2 ** (step / perOctave))
}

/**
 * A narrow-band curve, which shows dips that band levels average away:  20 lg |H(f)| line by line.
 *
 * @param transferAt  complex transfer function, for instance of a rig at one place; or the mean square |H|² itself
 * @returns           dB re |H| = 1; −Infinity where it is 0
 * @throws RangeError for arguments out of range (see narrowBandLinesHz) or a value that is not finite
 */
export function narrowBandLevelsDb(
  transferAt: (frequencyHz: number) => Complex | number,
  fromHz: number,
  toHz: number,
  perOctave = 24,
): NarrowBandLevel[] {
  return narrowBandLinesHz(fromHz, toHz, perOctave).map((frequencyHz) => {
    const value = transferAt(frequencyHz)
    const square = typeof value === 'number' ? value : squaredMagnitude(value)
    requireInRange(`|transfer|² at ${frequencyHz} Hz`, square, { min: 0 })
    return { frequencyHz, levelDb: 10 * Math.log10(square) }
  })
}
