import { filledLevels, type GridLevels } from './filled-levels.ts'

/**
 * A map with more places between those that were worked out, so that its contours are smooth: cubic in both directions (Catmull and Rom), exact
 * at the places themselves. Inside a box stands what is beside it.
 *
 * @param factor  how many steps each one becomes, 1 or more
 */
export function finerMap(map: GridLevels, factor: number): GridLevels {
  const { columns, rows } = map
  const { levelDb: filled } = filledLevels(map)
  const [across, down] = [(columns - 1) * factor + 1, (rows - 1) * factor + 1]
  const wide = new Float32Array(across * rows)
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < across; column++) {
      wide[row * across + column] = cubicAt((at) => filled[row * columns + at] as number, columns, column / factor)
    }
  }
  const finer = new Float32Array(across * down)
  for (let column = 0; column < across; column++) {
    for (let row = 0; row < down; row++) {
      finer[row * across + column] = cubicAt((at) => wide[at * across + column] as number, rows, row / factor)
    }
  }
  return { levelDb: finer, inside: new Uint8Array(across * down), columns: across, rows: down }
}

/** A cubic through the two values beside a place and along the slopes there; at the ends the slope is that of the last step. */
function cubicAt(value: (at: number) => number, count: number, place: number): number {
  const low = Math.min(count - 2, Math.floor(place))
  const t = place - low
  const [b, c] = [value(low), value(low + 1)]
  const a = low > 0 ? value(low - 1) : 2 * b - c
  const d = low + 2 < count ? value(low + 2) : 2 * c - b
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)))
}
