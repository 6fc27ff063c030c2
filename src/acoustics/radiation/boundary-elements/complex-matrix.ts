/** A dense complex matrix in two real arrays, row after row: entry (row, column) at row · columns + column. */
export type ComplexMatrix = { rows: number; columns: number; re: Float64Array; im: Float64Array }

/** A complex vector in two real arrays. */
export type ComplexVector = { re: Float64Array; im: Float64Array }

/**
 * A matrix of zeros.
 *
 * @param rows, columns  whole numbers, 0 or more
 */
export function complexMatrix(rows: number, columns: number): ComplexMatrix {
  return { rows, columns, re: new Float64Array(rows * columns), im: new Float64Array(rows * columns) }
}
