import type { ComplexVector } from './complex-matrix.ts'

/** Turns the lower triangle of a Hermitian matrix (row after row) whose eigenvalues are 1 or more into its Cholesky factor. */
export function choleskyInPlace(matrix: ComplexVector, size: number): ComplexVector {
  const { re, im } = matrix
  for (let i = 0; i < size; i++) {
    const row = i * size
    for (let j = 0; j <= i; j++) {
      const other = j * size
      let sumRe = re[row + j] as number
      let sumIm = im[row + j] as number
      // L_ij L_jj = H_ij − Σ L_ik conj(L_jk)
      for (let k = 0; k < j; k++) {
        const aRe = re[row + k] as number
        const aIm = im[row + k] as number
        const bRe = re[other + k] as number
        const bIm = im[other + k] as number
        sumRe -= aRe * bRe + aIm * bIm
        sumIm -= aIm * bRe - aRe * bIm
      }
      const inverse = 1 / (j < i ? (re[other + j] as number) : Math.sqrt(sumRe))
      re[row + j] = sumRe * inverse
      im[row + j] = sumIm * inverse
    }
  }
  return matrix
}

/** Solves L Lᴴ x = v in place. */
export function solveWithFactor({ re, im }: ComplexVector, size: number, v: ComplexVector): void {
  for (let i = 0; i < size; i++) {
    const row = i * size
    let sumRe = v.re[i] as number
    let sumIm = v.im[i] as number
    for (let k = 0; k < i; k++) {
      const aRe = re[row + k] as number
      const aIm = im[row + k] as number
      sumRe -= aRe * (v.re[k] as number) - aIm * (v.im[k] as number)
      sumIm -= aRe * (v.im[k] as number) + aIm * (v.re[k] as number)
    }
    v.re[i] = sumRe / (re[row + i] as number)
    v.im[i] = sumIm / (re[row + i] as number)
  }
  for (let i = size - 1; i >= 0; i--) {
    const row = i * size
    const xRe = (v.re[i] as number) / (re[row + i] as number)
    const xIm = (v.im[i] as number) / (re[row + i] as number)
    v.re[i] = xRe
    v.im[i] = xIm
    for (let k = 0; k < i; k++) {
      const aRe = re[row + k] as number
      const aIm = im[row + k] as number
      v.re[k] = (v.re[k] as number) - (aRe * xRe + aIm * xIm)
      v.im[k] = (v.im[k] as number) - (aRe * xIm - aIm * xRe)
    }
  }
}
