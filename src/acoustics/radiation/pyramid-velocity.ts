import { requireInRange } from '../numeric-range.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { capVelocityCoefficients } from './cap-velocity.ts'

/** Coverages whose coefficients are kept; they do not depend on frequency. */
const keptCoverages = 32
const kept = new Map<string, Float64Array>()

/**
 * Legendre coefficients of the radial velocity of a horn's wavefront on a sphere, for unit net volume velocity on a
 * unit sphere: evenly moving within the pyramid of its two coverage angles, still outside, and averaged round the axis.
 *
 * At the angle φ round the axis the pyramid reaches out to α(φ), with  tan α = tan(h/2)/|cos φ|  on its left and right
 * side and  tan(v/2)/|sin φ|  on its top and bottom. Its part that is even round the axis is the mean over φ of radial
 * caps of half-angle α(φ), each weighted with its solid angle. On the axis, in front and directly behind, only that
 * part sounds, so there the average is exact for the pyramid; elsewhere it is the mean of the horizontal, vertical and
 * slanting patterns. Averaging also spreads the rim: a round cap of one size would have false nulls on its own axis.
 *
 * @param horizontalCoverageRad  h, above 0 to π
 * @param verticalCoverageRad    v, above 0 to π
 * @param maxOrder               N, a whole number from 0 to 100 000
 * @returns                      Float64Array U_0 … U_N, or more; U_0 = 1/4π
 * @throws RangeError            for arguments outside these ranges
 * Source: solid angle of a pyramid 4 asin(sin(h/2) sin(v/2)), which the weights add up to; caps as in
 *         capVelocityCoefficients.
 */
export function pyramidVelocityCoefficients(
  horizontalCoverageRad: number,
  verticalCoverageRad: number,
  maxOrder: number,
): Float64Array {
  const range = { above: 0, max: Math.PI, unit: 'rad' }
  requireInRange('horizontalCoverageRad', horizontalCoverageRad, range)
  requireInRange('verticalCoverageRad', verticalCoverageRad, range)
  requireInRange('maxOrder', maxOrder, { min: 0, max: 1e5, integer: true })
  const key = `${horizontalCoverageRad} ${verticalCoverageRad}`
  const known = kept.get(key)
  if (known && known.length > maxOrder) return known

  const tanH = Math.tan(horizontalCoverageRad / 2)
  const tanV = Math.tan(verticalCoverageRad / 2)
  const cornerRad = Math.atan2(tanV, tanH)
  const sum = new Float64Array(maxOrder + 1)
  let totalWeight = 0
  for (const [fromRad, toRad, rim] of [
    [0, cornerRad, (roundRad: number) => Math.atan(tanH / Math.cos(roundRad))],
    [cornerRad, Math.PI / 2, (roundRad: number) => Math.atan(tanV / Math.sin(roundRad))],
  ] as const) {
    // P_n(cos α) turns once while nα grows by 2π; two nodes a turn are the least, four are safe.
    const count = 24 + Math.ceil(maxOrder * Math.abs(rim(toRad) - rim(fromRad)))
    const { nodes, weights } = gaussLegendre(count)
    for (let i = 0; i < count; i++) {
      const roundRad = fromRad + ((toRad - fromRad) * (1 + (nodes[i] as number))) / 2
      const rimRad = rim(roundRad)
      const solidAngle = 2 * Math.sin(rimRad / 2) ** 2
      const weight = (weights[i] as number) * (toRad - fromRad) * solidAngle
      const cap = capVelocityCoefficients(rimRad, 'radial', maxOrder)
      for (let n = 0; n <= maxOrder; n++) sum[n] = (sum[n] as number) + weight * (cap[n] as number)
      totalWeight += weight
    }
  }
  for (let n = 0; n <= maxOrder; n++) sum[n] = (sum[n] as number) / totalWeight
  if (kept.size >= keptCoverages) kept.clear()
  kept.set(key, sum)
  return sum
}
