import { requireInRange } from '../numeric-range.ts'

/** How a cap on a sphere moves: every point outward (radial), or the cap as one stiff piece along its axis (axial). */
export type CapMotion = 'axial' | 'radial'

/**
 * Legendre coefficients of the radial velocity of a cap on a sphere, for unit net volume velocity on a unit sphere:
 *
 *   u_r(θ) = Σ U_n P_n(cos θ),  u_r = u₀ (radial) or u₀ cos θ (axial) for θ ≤ α, else 0,  α the half-angle
 *   V_n = [P_{n−1}(cos α) − P_{n+1}(cos α)] / (1 − cos α),  V_0 = 1
 *   radial: U_n = V_n / 4π;  axial: U_n = [(n + 1) V_{n+1}/(2n + 3) + n V_{n−1}/(2n − 1)] / [2π (1 + cos α)]
 *
 * The axial row follows from x P_n = [(n + 1) P_{n+1} + n P_{n−1}]/(2n + 1). V_n comes from a recurrence for
 * (P_n − P_{n−1})/(1 − cos α), because the plain difference loses all digits for small caps.
 *
 * @param capHalfAngleRad  α, above 0; radial to π (a pulsating sphere), axial below π
 * @param motion           radial: net volume velocity u₀ 2π (1 − cos α); axial: u₀ π sin²α (unit sphere)
 * @param maxOrder         N, a whole number from 0 to 100 000
 * @returns                Float64Array U_0 … U_N in 1/m² × m³/s; divide by R² for a sphere of radius R
 * @throws RangeError      for arguments outside these ranges
 * Source: Morse & Ingard, Theoretical Acoustics, section 7.2; Beranek & Mellow, Acoustics, 2nd ed., section 12.6.
 */
export function capVelocityCoefficients(capHalfAngleRad: number, motion: CapMotion, maxOrder: number): Float64Array {
  if (motion !== 'axial' && motion !== 'radial') {
    throw new RangeError(`motion is ${String(motion)}; allowed is 'axial' or 'radial'`)
  }
  const range = { above: 0, unit: 'rad', ...(motion === 'axial' ? { below: Math.PI } : { max: Math.PI }) }
  requireInRange('capHalfAngleRad', capHalfAngleRad, range)
  requireInRange('maxOrder', maxOrder, { min: 0, max: 1e5, integer: true })
  // 1 − cos α and 1 + cos α without cancellation
  const t = 2 * Math.sin(capHalfAngleRad / 2) ** 2
  const s = 2 * Math.cos(capHalfAngleRad / 2) ** 2
  const v = new Float64Array(maxOrder + 2)
  v[0] = 1
  let p = 1
  let d = 0 // (P_n − P_{n−1}) / t
  for (let n = 1; n <= maxOrder + 2; n++) {
    const next = ((n - 1) * d - (2 * n - 1) * p) / n
    if (n > 1) v[n - 1] = -(d + next)
    d = next
    p += t * d
  }
  const u = new Float64Array(maxOrder + 1)
  for (let n = 0; n <= maxOrder; n++) {
    if (motion === 'radial') {
      u[n] = (v[n] ?? 0) / (4 * Math.PI)
    } else {
      const above = ((n + 1) * (v[n + 1] ?? 0)) / (2 * n + 3)
      const below = n === 0 ? 0 : (n * (v[n - 1] ?? 0)) / (2 * n - 1)
      u[n] = (above + below) / (2 * Math.PI * s)
    }
  }
  return u
}
