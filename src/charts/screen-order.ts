/**
 * Turns values on a plan grid (row-major: one row per z, one column per x) into screen order: one line per x, from
 * top to bottom, one cell per z, from left to right.
 */
export function inScreenOrder<T extends Float32Array | Uint8Array>(values: T, columns: number, rows: number): T {
  const turned = values.slice() as T
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) turned[column * rows + row] = values[row * columns + column] ?? 0
  }
  return turned
}
