/** A dense complex matrix in two real arrays, column after column: entry (row, column) at column · rows + row. */
export type ComplexMatrix = { rows: number; columns: number; re: Float64Array; im: Float64Array }

/** A complex vector in two real arrays. */
export type ComplexVector = { re: Float64Array; im: Float64Array }

/** Rows that one pass of the Gram matrix takes: two pairs of columns of it stay in the nearest cache. */
const rowsPerPass = 256

/**
 * A matrix of zeros.
 *
 * @param rows, columns  whole numbers, 0 or more
 */
export function complexMatrix(rows: number, columns: number): ComplexMatrix {
  return { rows, columns, re: new Float64Array(rows * columns), im: new Float64Array(rows * columns) }
}

/** Least-squares solution x for one right-hand side, and the norm of A x − b over that of b (0 for b = 0). */
export type LeastSquaresSolver = (b: ComplexVector) => ComplexVector & { relativeResidual: number }

/**
 * Least-squares solution of  A x ≈ b  for a tall, well-conditioned complex matrix: the normal equations
 * AᴴA x = Aᴴb  by a Cholesky factor L Lᴴ, then one step of refinement with the residual of A itself. The factor is made
 * once; every right-hand side after that costs little, and its answer does not depend on the others.
 *
 * Own code, because no kept library for the browser solves dense complex systems in typed arrays. Normal equations
 * square the condition; those of second-kind integral equations are about 10 to 1000, so ten digits are left, more than
 * the mesh deserves, and the product AᴴA runs from cache in tiles of 2 × 2 columns.
 *
 * @param a  rows ≥ columns; not changed, and to be left alone as long as the solver is used
 * @returns  the solver for right-hand sides b of `rows` numbers; b is not changed, x has `columns` numbers
 * @throws RangeError if the columns of A are linearly dependent to double precision
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., sections 4.2 and 5.3.
 */
export function leastSquaresSolver(a: ComplexMatrix): LeastSquaresSolver {
  const { rows, columns } = a
  if (rows < columns) throw new RangeError(`a has ${rows} rows; allowed is at least its ${columns} columns`)
  const factor = choleskyInPlace(gramMatrix(a), columns)
  return (b) => {
    const x = { re: new Float64Array(columns), im: new Float64Array(columns) }
    const residual = { re: Float64Array.from(b.re), im: Float64Array.from(b.im) }
    const norm = Math.sqrt(squaredNorm(b))
    for (let round = 0; round < 2; round++) {
      const step = adjointProduct(a, residual)
      solveWithFactor(factor, columns, step)
      for (let i = 0; i < columns; i++) {
        x.re[i] = (x.re[i] as number) + (step.re[i] as number)
        x.im[i] = (x.im[i] as number) + (step.im[i] as number)
      }
      subtractProduct(a, step, residual)
    }
    return { ...x, relativeResidual: norm > 0 ? Math.sqrt(squaredNorm(residual)) / norm : 0 }
  }
}

function squaredNorm({ re, im }: ComplexVector): number {
  let sum = 0
  for (let i = 0; i < re.length; i++) sum += (re[i] as number) ** 2 + (im[i] as number) ** 2
  return sum
}

/** Lower triangle of AᴴA, row after row (entry (i, j) at i · columns + j). */
function gramMatrix({ rows, columns, re, im }: ComplexMatrix): ComplexVector {
  const gram = { re: new Float64Array(columns * columns), im: new Float64Array(columns * columns) }
  const put = (i: number, j: number, sumRe: number, sumIm: number): void => {
    const at = i * columns + j
    gram.re[at] = (gram.re[at] as number) + sumRe
    gram.im[at] = (gram.im[at] as number) + sumIm
  }
  for (let from = 0; from < rows; from += rowsPerPass) {
    const length = Math.min(rowsPerPass, rows - from)
    for (let i = 0; i < columns; i += 2) {
      const secondRow = i + 1 < columns
      const p = i * rows + from
      const q = secondRow ? p + rows : p
      for (let j = 0; j <= i; j += 2) {
        const s = j * rows + from
        const t = j + 1 < columns ? s + rows : s
        // conj(a_i) a_j for the columns i, i + 1 and j, j + 1
        let re00 = 0
        let im00 = 0
        let re01 = 0
        let im01 = 0
        let re10 = 0
        let im10 = 0
        let re11 = 0
        let im11 = 0
        for (let r = 0; r < length; r++) {
          const pRe = re[p + r] as number
          const pIm = im[p + r] as number
          const qRe = re[q + r] as number
          const qIm = im[q + r] as number
          const sRe = re[s + r] as number
          const sIm = im[s + r] as number
          const tRe = re[t + r] as number
          const tIm = im[t + r] as number
          re00 += pRe * sRe + pIm * sIm
          im00 += pRe * sIm - pIm * sRe
          re01 += pRe * tRe + pIm * tIm
          im01 += pRe * tIm - pIm * tRe
          re10 += qRe * sRe + qIm * sIm
          im10 += qRe * sIm - qIm * sRe
          re11 += qRe * tRe + qIm * tIm
          im11 += qRe * tIm - qIm * tRe
        }
        put(i, j, re00, im00)
        if (j + 1 <= i) put(i, j + 1, re01, im01)
        if (secondRow) put(i + 1, j, re10, im10)
        if (secondRow && j + 1 < columns) put(i + 1, j + 1, re11, im11)
      }
    }
  }
  return gram
}

/** Turns the lower triangle of a Hermitian positive matrix (row after row) into its Cholesky factor. */
function choleskyInPlace(matrix: ComplexVector, size: number): ComplexVector {
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
      if (j < i) {
        const inverse = 1 / (re[other + j] as number)
        re[row + j] = sumRe * inverse
        im[row + j] = sumIm * inverse
      } else {
        if (!(sumRe > 1e-14 * (re[row + i] as number))) {
          throw new RangeError(`column ${i} of a depends on the columns before it; allowed are independent columns`)
        }
        re[row + i] = Math.sqrt(sumRe)
        im[row + i] = 0
      }
    }
  }
  return matrix
}

/** Solves L Lᴴ x = v in place. */
function solveWithFactor({ re, im }: ComplexVector, size: number, v: ComplexVector): void {
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

function adjointProduct({ rows, columns, re, im }: ComplexMatrix, v: ComplexVector): ComplexVector {
  const product = { re: new Float64Array(columns), im: new Float64Array(columns) }
  for (let j = 0; j < columns; j++) {
    let sumRe = 0
    let sumIm = 0
    for (let r = 0, at = j * rows; r < rows; r++, at++) {
      const aRe = re[at] as number
      const aIm = im[at] as number
      const vRe = v.re[r] as number
      const vIm = v.im[r] as number
      sumRe += aRe * vRe + aIm * vIm
      sumIm += aRe * vIm - aIm * vRe
    }
    product.re[j] = sumRe
    product.im[j] = sumIm
  }
  return product
}

/** residual −= A x */
function subtractProduct({ rows, columns, re, im }: ComplexMatrix, x: ComplexVector, residual: ComplexVector): void {
  for (let j = 0; j < columns; j++) {
    const xRe = x.re[j] as number
    const xIm = x.im[j] as number
    for (let r = 0, at = j * rows; r < rows; r++, at++) {
      const aRe = re[at] as number
      const aIm = im[at] as number
      residual.re[r] = (residual.re[r] as number) - (aRe * xRe - aIm * xIm)
      residual.im[r] = (residual.im[r] as number) - (aRe * xIm + aIm * xRe)
    }
  }
}
