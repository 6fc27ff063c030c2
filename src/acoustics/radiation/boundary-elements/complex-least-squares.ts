import { choleskyInPlace, solveWithFactor } from './cholesky.ts'
import type { ComplexMatrix, ComplexVector } from './complex-matrix.ts'

/** Columns that are factored together, an even number: what has become of them stays in the nearest cache. */
const blockColumns = 8

/** A pivot below this share of the greatest means that its column depends on those before it. */
const leastPivot = 1e-13

/** Least-squares solution x for one right-hand side, and the norm of A x − b over that of b (0 for b = 0). */
export type LeastSquaresSolver = (b: ComplexVector) => ComplexVector & { relativeResidual: number }

/**
 * Least-squares solution of  A x ≈ b  for a tall complex matrix with few rows more than columns, by Gaussian elimination with row
 * pivots: A, its rows in the order of the pivots, is L U with  L = (L₁; L₂), L₁ square. With  z = L₁ U x  and  C = L₂ L₁⁻¹  the
 * problem is the one of  z ≈ b₁, C z ≈ b₂, whose normal equations are as many as there are rows over:
 *
 *   (I + C Cᴴ) w = b₂ − C b₁,   z = b₁ + Cᴴ w,   with the residual  (Cᴴ w; w)
 *
 * The factor is made once; every right-hand side after that costs little, and its answer does not depend on the others. It takes half
 * the work of the normal equations AᴴA of all columns, and what is ill-conditioned of A stays in U, where it is not squared.
 *
 * Own code, because no kept library for the browser solves dense complex systems in typed arrays.
 *
 * @param a  rows ≥ columns; the factor takes its place
 * @returns  the solver for right-hand sides b of `rows` numbers; b is not changed, x has `columns` numbers
 * @throws RangeError if the columns of A are linearly dependent to double precision
 * Source: G. Peters & J. H. Wilkinson, Comput. J. 13 (1970) 309–316; Golub & Van Loan, Matrix Computations, 4th ed., section 3.4.
 */
export function leastSquaresSolver(a: ComplexMatrix): LeastSquaresSolver {
  const { rows, columns } = a
  if (rows < columns) throw new RangeError(`a has ${rows} rows; allowed is at least its ${columns} columns`)
  const order = factorInPlace(a)
  overTriangle(a)
  const over = rows - columns
  const small = choleskyInPlace(gramOfRowsOver(a), over)
  return (b) => {
    const x = { re: new Float64Array(columns), im: new Float64Array(columns) }
    const w = { re: new Float64Array(over), im: new Float64Array(over) }
    let squares = 0
    for (let i = 0; i < rows; i++) {
      const from = order[i] as number
      const to = i < columns ? x : w
      const at = i < columns ? i : i - columns
      to.re[at] = b.re[from] as number
      to.im[at] = b.im[from] as number
      squares += (b.re[from] as number) ** 2 + (b.im[from] as number) ** 2
    }
    for (let i = 0; i < over; i++) subtractRow(a, columns + i, 0, columns, x, w, i)
    solveWithFactor(small, over, w)
    let left = squaredNorm(w)
    for (let j = 0; j < columns; j++) {
      let re = 0
      let im = 0
      for (let i = 0, at = columns * columns + j; i < over; i++, at += columns) {
        const [cRe, cIm] = [a.re[at] as number, a.im[at] as number]
        const [wRe, wIm] = [w.re[i] as number, w.im[i] as number]
        re += cRe * wRe + cIm * wIm
        im += cRe * wIm - cIm * wRe
      }
      left += re * re + im * im
      x.re[j] = (x.re[j] as number) + re
      x.im[j] = (x.im[j] as number) + im
    }
    for (let i = 0; i < columns; i++) subtractRow(a, i, 0, i, x, x, i)
    for (let i = columns - 1; i >= 0; i--) {
      subtractRow(a, i, i + 1, columns, x, x, i)
      const at = i * columns + i
      const [re, im] = [a.re[at] as number, a.im[at] as number]
      const squared = re * re + im * im
      const [xRe, xIm] = [x.re[i] as number, x.im[i] as number]
      x.re[i] = (xRe * re + xIm * im) / squared
      x.im[i] = (xIm * re - xRe * im) / squared
    }
    return { ...x, relativeResidual: squares > 0 ? Math.sqrt(left / squares) : 0 }
  }
}

function squaredNorm({ re, im }: ComplexVector): number {
  let sum = 0
  for (let i = 0; i < re.length; i++) sum += (re[i] as number) ** 2 + (im[i] as number) ** 2
  return sum
}

/** to[at] −= Σ A_row,k v_k over the columns k from `from` to before `end`. */
function subtractRow(
  { columns, re, im }: ComplexMatrix,
  row: number,
  from: number,
  end: number,
  v: ComplexVector,
  to: ComplexVector,
  at: number,
): void {
  let sumRe = 0
  let sumIm = 0
  const first = row * columns
  for (let k = from; k < end; k++) {
    const aRe = re[first + k] as number
    const aIm = im[first + k] as number
    const vRe = v.re[k] as number
    const vIm = v.im[k] as number
    sumRe += aRe * vRe - aIm * vIm
    sumIm += aRe * vIm + aIm * vRe
  }
  to.re[at] = (to.re[at] as number) - sumRe
  to.im[at] = (to.im[at] as number) - sumIm
}

/**
 * Turns a matrix into L (below the diagonal, which is 1) and U, its rows in the order of the pivots; returns that order. Block after block of
 * columns takes what is left of all blocks before it.
 */
function factorInPlace(a: ComplexMatrix): Int32Array {
  const { rows, columns } = a
  const order = Int32Array.from({ length: rows }, (_, row) => row)
  // U of the block, column after column
  const block = { re: new Float64Array(blockColumns * columns), im: new Float64Array(blockColumns * columns) }
  let greatest = 0
  for (let from = 0; from < columns; from += blockColumns) {
    const end = Math.min(columns, from + blockColumns)
    for (let row = 0; row < rows; row += 2) {
      for (let column = from; column < end; column += 2) {
        subtractTile(a, block, row, column, (column - from) * columns, Math.min(row, from))
      }
      if (row < from) keepOfBlock(a, block, row, from, end)
    }
    for (let column = from; column < end; column++) {
      greatest = Math.max(greatest, eliminate(a, column, end, order, greatest))
    }
  }
  return order
}

/** Takes from two rows and columns the product of L with U of the block, over the columns before `length`. */
function subtractTile(
  { rows, columns, re, im }: ComplexMatrix,
  block: ComplexVector,
  row: number,
  column: number,
  s: number,
  length: number,
): void {
  const { re: blockRe, im: blockIm } = block
  const p = row * columns
  const q = row + 1 < rows ? p + columns : p
  const t = s + columns
  let re00 = 0
  let im00 = 0
  let re01 = 0
  let im01 = 0
  let re10 = 0
  let im10 = 0
  let re11 = 0
  let im11 = 0
  for (let k = 0; k < length; k++) {
    const pRe = re[p + k] as number
    const pIm = im[p + k] as number
    const qRe = re[q + k] as number
    const qIm = im[q + k] as number
    const sRe = blockRe[s + k] as number
    const sIm = blockIm[s + k] as number
    const tRe = blockRe[t + k] as number
    const tIm = blockIm[t + k] as number
    re00 += pRe * sRe - pIm * sIm
    im00 += pRe * sIm + pIm * sRe
    re01 += pRe * tRe - pIm * tIm
    im01 += pRe * tIm + pIm * tRe
    re10 += qRe * sRe - qIm * sIm
    im10 += qRe * sIm + qIm * sRe
    re11 += qRe * tRe - qIm * tIm
    im11 += qRe * tIm + qIm * tRe
  }
  const secondColumn = column + 1 < columns
  subtract(re, im, p + column, re00, im00)
  if (secondColumn) subtract(re, im, p + column + 1, re01, im01)
  if (q === p) return
  subtract(re, im, q + column, re10, im10)
  if (secondColumn) subtract(re, im, q + column + 1, re11, im11)
}

function subtract(re: Float64Array, im: Float64Array, at: number, lessRe: number, lessIm: number): void {
  re[at] = (re[at] as number) - lessRe
  im[at] = (im[at] as number) - lessIm
}

/** Two rows of a block become U once the second has lost its share of the first. */
function keepOfBlock(a: ComplexMatrix, block: ComplexVector, row: number, from: number, end: number): void {
  const { columns, re, im } = a
  const [p, q] = [row * columns, (row + 1) * columns]
  addRow(a, row + 1, row, -(re[q + row] as number), -(im[q + row] as number), from, end)
  for (let column = from, at = row; column < end; column++, at += columns) {
    block.re[at] = re[p + column] as number
    block.im[at] = im[p + column] as number
    block.re[at + 1] = re[q + column] as number
    block.im[at + 1] = im[q + column] as number
  }
}

/** row `to` += (re + j im) row `from`, over some columns. */
function addRow(
  { columns, re, im }: ComplexMatrix,
  to: number,
  from: number,
  factorRe: number,
  factorIm: number,
  firstColumn: number,
  endColumn: number,
): void {
  for (let k = firstColumn, t = to * columns + k, f = from * columns + k; k < endColumn; k++, t++, f++) {
    const fRe = re[f] as number
    const fIm = im[f] as number
    re[t] = (re[t] as number) + factorRe * fRe - factorIm * fIm
    im[t] = (im[t] as number) + factorRe * fIm + factorIm * fRe
  }
}

/** One column of a block: brings its greatest entry up to the diagonal, divides by it and takes its row from those below. Returns its size. */
function eliminate(a: ComplexMatrix, column: number, end: number, order: Int32Array, greatest: number): number {
  const { rows, columns, re, im } = a
  let pivotRow = column
  let most = -1
  for (let i = column, at = column * columns + column; i < rows; i++, at += columns) {
    const squared = (re[at] as number) ** 2 + (im[at] as number) ** 2
    if (squared > most) {
      most = squared
      pivotRow = i
    }
  }
  const size = Math.sqrt(most)
  if (!(size > leastPivot * greatest)) {
    throw new RangeError(`column ${column} of a depends on the columns before it; allowed are independent columns`)
  }
  if (pivotRow !== column) {
    swap(re, column, pivotRow, columns)
    swap(im, column, pivotRow, columns)
    swap(order, column, pivotRow, 1)
  }
  const diagonal = column * columns + column
  const inverseRe = (re[diagonal] as number) / most
  const inverseIm = -(im[diagonal] as number) / most
  for (let i = column + 1, at = diagonal + columns; i < rows; i++, at += columns) {
    const [aRe, aIm] = [re[at] as number, im[at] as number]
    const lRe = aRe * inverseRe - aIm * inverseIm
    const lIm = aRe * inverseIm + aIm * inverseRe
    re[at] = lRe
    im[at] = lIm
    addRow(a, i, column, -lRe, -lIm, column + 1, end)
  }
  return size
}

/** Changes two rows of some length for each other. */
function swap(values: Float64Array | Int32Array, row: number, other: number, length: number): void {
  for (let i = row * length, j = other * length, end = i + length; i < end; i++, j++) {
    const value = values[i] as number
    values[i] = values[j] as number
    values[j] = value
  }
}

/** Turns L₂, the rows below the triangle, into C = L₂ L₁⁻¹. */
function overTriangle(a: ComplexMatrix): void {
  const { rows, columns, re, im } = a
  for (let k = columns - 1; k > 0; k--) {
    for (let row = columns; row < rows; row++) {
      const at = row * columns + k
      addRow(a, row, k, -(re[at] as number), -(im[at] as number), 0, k)
    }
  }
}

/** Lower triangle of I + C Cᴴ, row after row. */
function gramOfRowsOver({ rows, columns, re, im }: ComplexMatrix): ComplexVector {
  const over = rows - columns
  const gram = { re: new Float64Array(over * over), im: new Float64Array(over * over) }
  for (let i = 0; i < over; i++) {
    for (let j = 0; j <= i; j++) {
      let sumRe = i === j ? 1 : 0
      let sumIm = 0
      for (let k = 0, p = (columns + i) * columns, q = (columns + j) * columns; k < columns; k++, p++, q++) {
        const pRe = re[p] as number
        const pIm = im[p] as number
        const qRe = re[q] as number
        const qIm = im[q] as number
        sumRe += pRe * qRe + pIm * qIm
        sumIm += pIm * qRe - pRe * qIm
      }
      gram.re[i * over + j] = sumRe
      gram.im[i * over + j] = sumIm
    }
  }
  return gram
}
