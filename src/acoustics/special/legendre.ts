import { requireInRange } from '../numeric-range.ts'

/**
 * Legendre polynomials P_0(x) … P_N(x) by the recurrence  (n + 1) P_{n+1} = (2n + 1) x P_n − n P_{n−1}.
 *
 * Own code because a series over n needs the whole row, and libraries hand out one polynomial at a time.
 *
 * @param maxOrder  N, a whole number from 0 to 100 000
 * @param x         −1 … 1
 * @returns         Float64Array of N + 1 values, dimensionless
 * @throws RangeError for arguments outside these ranges
 * Source: DLMF 14.10.3 with μ = 0.
 * Accuracy: absolute error below 1e-13 up to N = 1000.
 */
export function legendrePolynomials(maxOrder: number, x: number): Float64Array {
  requireInRange('maxOrder', maxOrder, { min: 0, max: 1e5, integer: true })
  requireInRange('x', x, { min: -1, max: 1 })
  const p = new Float64Array(maxOrder + 1)
  let before = 0
  let current = 1
  for (let n = 0; n <= maxOrder; n++) {
    p[n] = current
    const next = ((2 * n + 1) * x * current - n * before) / (n + 1)
    before = current
    current = next
  }
  return p
}
