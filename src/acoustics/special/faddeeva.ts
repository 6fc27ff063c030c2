import type { Complex } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/** Terms of the series; 32 bring it to rounding. */
const terms = 32
const scale = Math.sqrt(terms / Math.SQRT2)

/** Coefficients of the series, the first for the power 0: Fourier coefficients of e^{−t²}(L² + t²) over t = L tan(θ/2). */
function seriesCoefficients(): Float64Array {
  const half = 2 * terms
  return Float64Array.from({ length: terms }, (_, power) => {
    let sum = 0
    for (let k = 1 - half; k < half; k++) {
      const angle = (k * Math.PI) / half
      const t = scale * Math.tan(angle / 2)
      sum += Math.exp(-t * t) * (scale * scale + t * t) * Math.cos((power + 1) * angle)
    }
    return sum / (2 * half)
  })
}

let coefficients: Float64Array | undefined

/**
 * Faddeeva function  w(z) = e^{−z²} erfc(−iz), in the upper half of the plane by
 *
 *   w(z) ≈ 2 Σ a_{n+1} Zⁿ / (L − iz)² + 1 / (√π (L − iz)),  Z = (L + iz) / (L − iz)
 *
 * and below it by  w(z) = 2 e^{−z²} − w(−z).
 *
 * @param z   |Re z| and |Im z| up to 10⁶; below the real axis so far that e^{−z²} is a number
 * @throws    RangeError if a part is out of range, or w is too large for a number
 * Source:    J. A. C. Weideman, Computation of the complex error function, SIAM J. Numer. Anal. 31 (1994), 1497–1518; DLMF 7.4.
 * Accuracy:  relative error below 1e-12 in the upper half of the plane for |z| up to 100.
 */
export function faddeeva({ re: x, im: y }: Complex): Complex {
  requireInRange('z.re', x, { min: -1e6, max: 1e6 })
  requireInRange('z.im', y, { min: -1e6, max: 1e6 })
  if (y < 0) {
    const above = faddeeva({ re: -x, im: -y })
    const size = requireInRange('|2 exp(−z²)|', 2 * Math.exp(y * y - x * x))
    return { re: size * Math.cos(2 * x * y) - above.re, im: -size * Math.sin(2 * x * y) - above.im }
  }
  coefficients ??= seriesCoefficients()
  // iz = −y + ix
  const [lowRe, lowIm] = [scale + y, -x]
  const norm = lowRe * lowRe + lowIm * lowIm
  const [inverseRe, inverseIm] = [lowRe / norm, -lowIm / norm]
  const [ratioRe, ratioIm] = [(scale - y) * inverseRe - x * inverseIm, (scale - y) * inverseIm + x * inverseRe]
  let sumRe = 0
  let sumIm = 0
  for (let power = terms - 1; power >= 0; power--) {
    const next = sumRe * ratioRe - sumIm * ratioIm + (coefficients[power] as number)
    sumIm = sumRe * ratioIm + sumIm * ratioRe
    sumRe = next
  }
  const [squareRe, squareIm] = [inverseRe * inverseRe - inverseIm * inverseIm, 2 * inverseRe * inverseIm]
  const share = 1 / Math.sqrt(Math.PI)
  return {
    re: 2 * (sumRe * squareRe - sumIm * squareIm) + share * inverseRe,
    im: 2 * (sumRe * squareIm + sumIm * squareRe) + share * inverseIm,
  }
}
