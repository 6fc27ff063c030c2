import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/** Keele's constant in m × degrees × Hz: 10⁶ inch degrees Hz × 0.0254 m per inch. */
const keeleConstant = 25400

/** Speed of sound at which the rule is taken to be stated (20 °C), m/s. */
const ruleSpeedOfSoundMps = 343.2

/**
 * Frequency below which a horn mouth is too small to hold its coverage angle (Keele's rule):
 *
 *   f = 25 400 / (θ d),  θ in degrees, d in m, at 343.2 m/s
 *
 * The rule compares the mouth with the wavelength, so it is scaled with the speed of sound of the air at hand.
 *
 * @param mouthM       d, size of the mouth in the plane of the angle, 0.001 … 100 m
 * @param coverageRad  θ, nominal coverage (−6 dB to −6 dB) in that plane, 0.01 … 2π rad
 * @param air          the medium
 * @returns            Hz
 * @throws RangeError  for arguments outside these ranges
 * Source: D. B. Keele, What's so sacred about exponential horns?, Audio Eng. Soc. 51st Convention (1975).
 * Accuracy: a rule of thumb; real horns differ by some tens of per cent.
 */
export function hornControlHz(mouthM: number, coverageRad: number, air: Air): number {
  requireInRange('mouthM', mouthM, { min: 0.001, max: 100, unit: 'm' })
  requireInRange('coverageRad', coverageRad, { min: 0.01, max: 2 * Math.PI, unit: 'rad' })
  requireAir(air)
  const coverageDegrees = (coverageRad * 180) / Math.PI
  return (keeleConstant / (coverageDegrees * mouthM)) * (air.speedOfSoundMps / ruleSpeedOfSoundMps)
}
