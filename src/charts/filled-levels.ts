/** Levels on a grid: one row per z, one column per x; `inside` is 1 where there is no level. */
export type GridLevels = { levelDb: Float32Array; inside: Uint8Array; columns: number; rows: number }

/** The cells round one, corners too. */
const eightBeside = [-1, 0, 1]
  .flatMap((down) => [-1, 0, 1].map((across) => [across, down] as const))
  .filter(([across, down]) => across !== 0 || down !== 0)

/**
 * Levels where there are none, in boxes and beyond walls: in each cell the mean of what is beside it, from the edge inward, so that no contour
 * follows the edge and no shade fades there for that alone.
 *
 * @returns  the levels, and 1 for each cell without a level of its own that lies beside one with
 */
export function filledLevels({ levelDb, inside, columns, rows }: GridLevels): {
  levelDb: Float32Array
  edge: Uint8Array
} {
  const filled = levelDb.slice()
  const edge = new Uint8Array(inside.length)
  const isOpen = Uint8Array.from(inside, (covered) => (covered ? 0 : 1))
  const besideOf = (cell: number) => {
    const [column, row] = [cell % columns, Math.floor(cell / columns)]
    return eightBeside.flatMap(([across, down]) => {
      const [c, r] = [column + across, row + down]
      return c >= 0 && c < columns && r >= 0 && r < rows ? [r * columns + c] : []
    })
  }
  let waiting: number[] = []
  inside.forEach((covered, cell) => {
    if (covered) waiting.push(cell)
  })
  for (let ring = 0; waiting.length > 0; ring++) {
    const found = waiting.flatMap((cell) => {
      const levels = besideOf(cell).flatMap((at) => (isOpen[at] ? [filled[at] as number] : []))
      return levels.length > 0 ? [{ cell, mean: levels.reduce((sum, level) => sum + level, 0) / levels.length }] : []
    })
    if (found.length === 0) break
    for (const { cell, mean } of found) {
      filled[cell] = mean
      isOpen[cell] = 1
      if (ring === 0) edge[cell] = 1
    }
    waiting = waiting.filter((cell) => !isOpen[cell])
  }
  return { levelDb: filled, edge }
}
