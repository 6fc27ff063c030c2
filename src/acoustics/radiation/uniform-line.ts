import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { frequencyRange } from './radiation-input.ts'

/**
 * Far-field level of a straight line that radiates evenly along its length, re broadside:
 *
 *   20 lg |sin u / u|,  u = (π L / λ) sin θ
 *
 * @param lengthM                L, 0 … 1000 m
 * @param frequencyHz            1e-6 … 1e6 Hz
 * @param angleFromBroadsideRad  θ, −π/2 … π/2
 * @param air                    the medium
 * @returns                      dB, 0 or less; very low, down to −Infinity, at a null
 * @throws RangeError            for arguments outside these ranges
 * Source: H. F. Olson, Acoustical Engineering, 1957; Kinsler, Frey, Coppens & Sanders, 4th ed., section 7.3.
 */
export function uniformLineDb(lengthM: number, frequencyHz: number, angleFromBroadsideRad: number, air: Air): number {
  requireInRange('lengthM', lengthM, { min: 0, max: 1000, unit: 'm' })
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireInRange('angleFromBroadsideRad', angleFromBroadsideRad, { min: -Math.PI / 2, max: Math.PI / 2, unit: 'rad' })
  requireAir(air)
  const u = Math.abs((Math.PI * lengthM * frequencyHz * Math.sin(angleFromBroadsideRad)) / air.speedOfSoundMps)
  return u < 1e-8 ? 0 : 20 * Math.log10(Math.abs(Math.sin(u) / u))
}
