import { digits } from '../../words/digits.ts'

/**
 * A number for a table of evidence: as many decimals as its tolerance can tell apart, and one more.
 *
 * @param value      the number, finite
 * @param tolerance  in the same unit, 0 or more; 0 stands for an exact relation and shows six significant digits
 * @returns for instance '−39.43' for (−39.4289, 0.05); very small or very large numbers in powers of ten: '1.2 × 10⁻⁷'
 */
export function evidenceNumber(value: number, tolerance: number): string {
  if (value === 0) return '0'
  const size = Math.floor(Math.log10(Math.abs(value)))
  const smallestShown = tolerance > 0 ? Math.floor(Math.log10(tolerance)) - 1 : size - 5
  if (size < -4 || size > 6) {
    return powerOfTen(value, Math.min(6, Math.max(1, size - smallestShown)))
  }
  const decimals = Math.min(8, Math.max(0, -smallestShown))
  return digits(value.toFixed(decimals))
}

/** An error or a tolerance: two significant digits. */
export function smallNumber(value: number): string {
  if (value === 0) return '0'
  const size = Math.floor(Math.log10(Math.abs(value)))
  if (size < -4 || size > 5) return powerOfTen(value, 1)
  return digits(String(Number(value.toPrecision(2))))
}

function powerOfTen(value: number, decimals: number): string {
  const [mantissa = '', exponent = ''] = value.toExponential(decimals).split('e')
  return `${digits(String(Number(mantissa)))} × 10${superscript(String(Number(exponent)))}`
}

const superscript = (text: string): string =>
  [...text].map((sign) => (sign === '-' ? '⁻' : '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(sign)])).join('')
