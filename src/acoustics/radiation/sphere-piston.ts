import type { Air } from '../medium/air.ts'
import { type CapMotion, capVelocityCoefficients } from './cap-velocity.ts'
import { type SphereRadiation, sphereRadiation } from './sphere-radiation.ts'

/** A moving cap around +z on a rigid sphere about the origin. */
export type SpherePistonShape = { radiusM: number; capHalfAngleRad: number; motion: CapMotion }

/**
 * A cap (or the whole) of a rigid sphere in free space, with unit net volume velocity, moving radially
 * (u_r = u₀, Q = u₀ 2πR² (1 − cos α)) or axially as one stiff piece (u_r = u₀ cos θ, Q = u₀ πR² sin²α).
 *
 * @param shape        radiusM R, 1e-6 … 100 m; capHalfAngleRad α, above 0, radial to π (a pulsating sphere), axial
 *                     below π
 * @param frequencyHz  1e-6 … 1e6 Hz, with kR at most 1000
 * @param air          the medium
 * @returns            Radiation about the sphere's centre; pressureAt throws RangeError inside the sphere
 * @throws RangeError  for arguments outside these ranges
 * Source: Morse & Ingard, Theoretical Acoustics, section 7.2; Beranek & Mellow, Acoustics, 2nd ed., sections 12.5, 12.6.
 * Accuracy: that of sphereRadiation.
 */
export function spherePiston(shape: SpherePistonShape, frequencyHz: number, air: Air): SphereRadiation {
  const { radiusM, capHalfAngleRad, motion } = shape
  const velocityCoefficients = (maxOrder: number) => capVelocityCoefficients(capHalfAngleRad, motion, maxOrder)
  return sphereRadiation({ radiusM, velocityCoefficients }, frequencyHz, air)
}
