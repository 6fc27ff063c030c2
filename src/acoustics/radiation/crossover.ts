import { type Complex, divide, multiply } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * One slope of a crossover. Linkwitz–Riley exists in orders 2, 4 and 8 (a Butterworth slope of half the order, twice)
 * and is 6.02 dB down at `frequencyHz`; Butterworth in orders 1 to 4, 3.01 dB down there.
 */
export type CrossoverSlope = { alignment: 'linkwitz-riley' | 'butterworth'; order: number; frequencyHz: number }

/**
 * Complex response of one crossover slope, as an analog prototype.
 *
 *   Butterworth low-pass of order N:  H(s) = 1 / ∏ (s − p_k),  p_k = e^{jπ(2k + N − 1)/(2N)},  s = j f / f_c
 *   high-pass: s replaced by 1/s.  Linkwitz–Riley of order 2M: the square of the Butterworth response of order M.
 *
 * With Linkwitz–Riley order 4 or 8, low-pass plus high-pass is an all-pass of magnitude 1; with order 2 one of the
 * two has to be inverted for that.
 *
 * @param slope        see CrossoverSlope; frequencyHz 0.1 … 1e6 Hz
 * @param kind         'low-pass' or 'high-pass'
 * @param frequencyHz  0 … 1e6 Hz
 * @returns            dimensionless, 1 in the passband
 * @throws RangeError  for an order that the alignment does not have, or a frequency out of range
 * Source: S. H. Linkwitz, J. Audio Eng. Soc. 24 (1976) 2–8; Butterworth poles from any filter textbook.
 */
export function crossoverResponse(slope: CrossoverSlope, kind: 'low-pass' | 'high-pass', frequencyHz: number): Complex {
  checkCrossoverSlope(slope)
  requireInRange('frequencyHz', frequencyHz, { min: 0, max: 1e6, unit: 'Hz' })
  const squared = slope.alignment === 'linkwitz-riley'
  const order = squared ? slope.order / 2 : slope.order
  if (frequencyHz === 0) return { re: kind === 'low-pass' ? 1 : 0, im: 0 }
  const ratio = frequencyHz / slope.frequencyHz
  const s: Complex = kind === 'low-pass' ? { re: 0, im: ratio } : { re: 0, im: -1 / ratio }
  let denominator: Complex = { re: 1, im: 0 }
  for (let k = 1; k <= order; k++) {
    const poleAngleRad = (Math.PI * (2 * k + order - 1)) / (2 * order)
    denominator = multiply(denominator, { re: s.re - Math.cos(poleAngleRad), im: s.im - Math.sin(poleAngleRad) })
  }
  const butterworth = divide({ re: 1, im: 0 }, denominator)
  return squared ? multiply(butterworth, butterworth) : butterworth
}

/**
 * Checks a crossover slope and returns it unchanged.
 *
 * @param slope  the slope
 * @param name   how error messages call it
 * @throws RangeError for an unknown alignment, an order that it does not have, or a frequency outside 0.1 … 1e6 Hz
 */
export function checkCrossoverSlope(slope: CrossoverSlope, name = 'slope'): CrossoverSlope {
  const orders: Record<string, number[] | undefined> = { 'linkwitz-riley': [2, 4, 8], butterworth: [1, 2, 3, 4] }
  const allowed = orders[slope.alignment]
  if (!allowed) {
    throw new RangeError(
      `${name}.alignment is ${String(slope.alignment)}; allowed is 'linkwitz-riley' or 'butterworth'`,
    )
  }
  if (!allowed.includes(slope.order)) {
    throw new RangeError(
      `${name}.order is ${String(slope.order)}; allowed with ${slope.alignment} is ${allowed.join(', ')}`,
    )
  }
  requireInRange(`${name}.frequencyHz`, slope.frequencyHz, { min: 0.1, max: 1e6, unit: 'Hz' })
  return slope
}
