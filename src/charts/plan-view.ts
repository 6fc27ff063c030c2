/** The plan on the screen: the rig's forward direction (+z) points right, its right-hand side (+x) points down. */
export type PlanExtent = { halfM: number }

/** Screen position (px) of a plan place, for a square drawing of `sizePx` that shows ±halfM around the front-face centre. */
export const toScreen = (xM: number, zM: number, halfM: number, sizePx: number) => ({
  left: ((zM + halfM) / (2 * halfM)) * sizePx,
  top: ((xM + halfM) / (2 * halfM)) * sizePx,
})

/** Plan place of a screen position: the inverse of toScreen. */
export const toPlan = (left: number, top: number, halfM: number, sizePx: number) => ({
  zM: (left / sizePx) * 2 * halfM - halfM,
  xM: (top / sizePx) * 2 * halfM - halfM,
})

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
