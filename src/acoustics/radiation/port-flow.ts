import { type Complex, divide } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/** Quality of the resonance of box and port that is assumed for every box: what leaks take of it in a well-made one (common practice, no source). */
export const usualPortQuality = 7

const tuningRange = { min: 10, max: 400, unit: 'Hz' }

/** @throws RangeError for a tuning outside 10 … 400 Hz */
export const requireTuning = (tuningHz: number, name = 'tuningHz'): number =>
  requireInRange(name, tuningHz, tuningRange)

/**
 * Volume velocity out of a port over that out of the cones of the same box:
 *
 *   U_port / U_cone = −1 / (1 − x² + j x/Q),   x = f / f_b
 *
 * What the cones push out the box has to take in. Box pressure p = −U_cone / (jωC + 1/R + 1/jωM), with the compliance C of the
 * air in the box, the leaks R and the mass M of the air in the port; U_port = p / jωM;  ω_b² = 1/MC,  Q = R / ω_b M. A port with
 * friction instead of leaks, Q = ω_b M / R, comes to the same. What leaks is spread over the box, and not counted as sound.
 *
 * Far below f_b the port undoes the cones (−1; the sum falls by 12 dB an octave more than a closed box), at f_b it plays jQ
 * times what they do, far above it is silent (−12 dB an octave).
 *
 * @param frequencyHz  0 … 1e6 Hz
 * @param tuningHz     f_b, 10 … 400 Hz
 * @param quality      Q, 1 … 1000; default usualPortQuality
 * @returns            dimensionless; positive is out of the box, as for the cones
 * @throws RangeError  for arguments outside these ranges
 * Source: the bass-reflex circuit of any handbook, for instance Beranek & Mellow, Acoustics (loudspeaker systems); the formula
 *         follows in three lines from a Helmholtz resonator (Kinsler & Frey, section 10.8).
 */
export function portFlowRatio(frequencyHz: number, tuningHz: number, quality = usualPortQuality): Complex {
  requireInRange('frequencyHz', frequencyHz, { min: 0, max: 1e6, unit: 'Hz' })
  requireTuning(tuningHz)
  requireInRange('quality', quality, { min: 1, max: 1000 })
  const x = frequencyHz / tuningHz
  return divide({ re: -1, im: 0 }, { re: 1 - x * x, im: x / quality })
}
