import { type Complex, divide } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/** Quality of the resonance of box and port that is assumed for every box: what losses leave of it in a well-made one (common practice, no source). */
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
 * The air in the box, of compliance C, is let out by the cones and by the port, whose air has the mass M and the friction R:
 * p = −(U_cone + U_port) / jωC and p = (jωM + R) U_port;  ω_b² = 1/MC,  Q = ω_b M / R. Leaks instead of friction come to the same
 * ratio; what leaks would sound as well, and is not counted.
 *
 * Far below f_b the port undoes the cones (−1; the sum falls by 12 dB an octave more than a closed box), at f_b it plays jQ
 * times what they do, far above it is silent (−12 dB an octave).
 *
 * How much Q matters: without losses a port in the back leaves the bass alike in front and behind, from far away; with them the
 * front is louder, by about as much as 1/Q. A top tuned to 55 Hz (0.32 × 0.56 × 0.30 m) has behind, at 55 Hz, −2.7 dB re the front
 * with Q = 3.5, −1.4 with 7 and −0.5 with 20; an octave above the tuning −1.1, −0.7 and −0.4.
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
