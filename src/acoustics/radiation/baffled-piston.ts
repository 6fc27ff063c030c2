import besselJ1 from '@stdlib/math-base-special-besselj1'
import { requireInRange } from '../numeric-range.ts'

/**
 * Far-field level of a flat circular piston in an infinite rigid baffle, re its axis:
 *
 *   20 lg |2 J₁(v)/v|,  v = ka sin θ
 *
 * @param ka        wavenumber × radius of the piston, 0 … 1e5
 * @param angleRad  θ from the axis, −π/2 … π/2 (behind the baffle there is no sound)
 * @returns         dB, 0 or less; very low, down to −Infinity, at a null
 * @throws RangeError for arguments outside these ranges
 * Source: Kinsler, Frey, Coppens & Sanders, Fundamentals of Acoustics, 4th ed., section 7.4.
 */
export function baffledPistonDb(ka: number, angleRad: number): number {
  requireInRange('ka', ka, { min: 0, max: 1e5 })
  requireInRange('angleRad', angleRad, { min: -Math.PI / 2, max: Math.PI / 2, unit: 'rad' })
  const v = Math.abs(ka * Math.sin(angleRad))
  // The series 2 J₁(v)/v = 1 − v²/8 + … is 1 to double precision below 1e-8, and 0/0 has no value.
  return v < 1e-8 ? 0 : 20 * Math.log10(Math.abs((2 * besselJ1(v)) / v))
}
