import type { Complex } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/** Number of terms of the rational sum; the error falls like e^{−N/2}. */
const terms = 32

/** Stretch of the map that has the fewest terms. */
const stretch = Math.sqrt(terms / Math.SQRT2)

/** Coefficients of the sum, highest power first. */
const coefficients = rationalCoefficients()

/**
 * Scaled complementary error function  erfcx(z) = e^{z²} erfc(z), for Re z ≥ 0.
 *
 *   erfcx(z) = 2 p(Z)/(l + z)² + (1/√π)/(l + z),  Z = (l − z)/(l + z)
 *
 * Own code because no small, kept library has it for complex arguments.
 *
 * @param z  real part 0 or more
 * @returns  dimensionless; 1 at 0, and about 1/(z √π) for a large z
 * @throws RangeError for a negative real part or a value that is not finite
 * Source: Weideman, SIAM J. Numer. Anal. 31 (1994), 1497–1518, with w(jz) = erfcx(z); DLMF 7.2.3.
 * Accuracy: relative error below 1e-11.
 */
export function scaledErfc(z: Complex): Complex {
  requireInRange('z.re', z.re, { min: 0 })
  requireInRange('z.im', z.im)
  // 1/(l + z), and Z = 2l/(l + z) − 1
  const below = stretch + z.re
  const norm = below * below + z.im * z.im
  const iRe = below / norm
  const iIm = -z.im / norm
  const zRe = 2 * stretch * iRe - 1
  const zIm = 2 * stretch * iIm
  let pRe = 0
  let pIm = 0
  for (const coefficient of coefficients) {
    const next = pRe * zRe - pIm * zIm + coefficient
    pIm = pRe * zIm + pIm * zRe
    pRe = next
  }
  const qRe = 2 * (pRe * iRe - pIm * iIm) + 1 / Math.sqrt(Math.PI)
  const qIm = 2 * (pRe * iIm + pIm * iRe)
  return { re: qRe * iRe - qIm * iIm, im: qRe * iIm + qIm * iRe }
}

/** Fourier coefficients of (l² + t²) e^{−t²} over θ, t = l tan(θ/2); a plain sum, since there are few. */
function rationalCoefficients(): Float64Array {
  const count = 4 * terms
  const values = Array.from({ length: count - 1 }, (_, i) => {
    const thetaRad = ((i + 1 - count / 2) * 2 * Math.PI) / count
    const t = stretch * Math.tan(thetaRad / 2)
    return { thetaRad, value: Math.exp(-t * t) * (stretch * stretch + t * t) }
  })
  return Float64Array.from({ length: terms }, (_, i) => {
    const n = terms - i
    return values.reduce((sum, { thetaRad, value }) => sum + value * Math.cos(n * thetaRad), 0) / count
  })
}
