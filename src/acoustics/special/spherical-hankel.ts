import { requireInRange } from '../numeric-range.ts'

/** Real and imaginary parts of a row of complex numbers, index = order n. */
export type ComplexRow = { re: Float64Array; im: Float64Array }

/**
 * Ratios  ρ_n(x) = h_n⁽²⁾(x) / h_{n−1}⁽²⁾(x)  for n = 0 … N, with ρ_0 = j:
 *
 *   ρ_{n+1} = (2n + 1)/x − 1/ρ_n
 *
 * The functions themselves grow like (2n − 1)!!/x^{n+1} and leave double precision at moderate n; their ratios never
 * do, and every sum over outgoing waves can be written with ratios. That is why this is our own code: the well-kept
 * numeric libraries have no spherical Hankel functions, and none offers quotients of them that neither overflow nor
 * underflow.
 *
 * The upward direction is stable because h_n is dominated by the growing solution y_n. The imaginary part
 * stays accurate too, although it becomes tiny: Im ρ_{n+1} = Im ρ_n / |ρ_n|², a product without cancellation.
 *
 * @param x         above 0; 1e-290 is the practical floor
 * @param maxOrder  N, a whole number from 0 to 100 000
 * @returns         N + 1 ratios, dimensionless
 * @throws RangeError for arguments outside these ranges
 * Source: DLMF 10.51.1 (recurrence), 10.50.1 (Wronskian, which gives Im ρ_n = 1/(x² |h_{n−1}|²)).
 * Accuracy: relative error of each ratio below 1e-12 for x ≤ 1000 and N ≤ 1500.
 */
export function sphericalHankelRatios(x: number, maxOrder: number): ComplexRow {
  requireInRange('x', x, { min: 1e-290, max: 1e9 })
  requireInRange('maxOrder', maxOrder, { min: 0, max: 1e5, integer: true })
  const re = new Float64Array(maxOrder + 1)
  const im = new Float64Array(maxOrder + 1)
  let a = 0
  let b = 1
  for (let n = 0; n <= maxOrder; n++) {
    re[n] = a
    im[n] = b
    const norm = a * a + b * b
    a = (2 * n + 1) / x - a / norm
    b = b / norm
  }
  return { re, im }
}

/**
 * Logarithmic derivatives  L_n(x) = h_n⁽²⁾′(x) / h_n⁽²⁾(x) = 1/ρ_n(x) − (n + 1)/x  for n = 0 … N.
 *
 * @param ratios  from sphericalHankelRatios
 * @param x       the same argument, above 0
 * @returns       N + 1 values, dimensionless; the real part is negative for every n
 * @throws RangeError if x is not above 0
 * Source: DLMF 10.51.2.
 */
export function sphericalHankelLogDerivatives(ratios: ComplexRow, x: number): ComplexRow {
  requireInRange('x', x, { min: 1e-290, max: 1e9 })
  const re = new Float64Array(ratios.re.length)
  const im = new Float64Array(ratios.re.length)
  for (let n = 0; n < re.length; n++) {
    const a = ratios.re[n] ?? 0
    const b = ratios.im[n] ?? 0
    const norm = a * a + b * b
    re[n] = a / norm - (n + 1) / x
    im[n] = -b / norm
  }
  return { re, im }
}
