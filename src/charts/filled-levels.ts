/** Levels on a grid: one row per z, one column per x; `inside` is 1 where there is no level. */
export type GridLevels = { levelDb: Float32Array; inside: Uint8Array; columns: number; rows: number }

/** Of a cell that no ring has reached yet. */
const unreached = 255

/**
 * Levels where there are none, in boxes and beyond walls: in each cell the mean of what is round it, from the edge inward, so that no contour
 * follows the edge and no shade fades there for that alone.
 *
 * @returns  the levels, and how many cells each is from one with a level of its own: 0 with it, 1 beside it
 */
export function filledLevels({ levelDb, inside, columns }: GridLevels): {
  levelDb: Float32Array
  rings: Uint8Array
} {
  const filled = levelDb.slice()
  const rings = inside.map((covered) => covered && unreached)
  let found = true
  for (let ring = 1; found && ring < unreached; ring++) {
    found = false
    rings.forEach((is, cell) => {
      if (is !== unreached) return
      let [sum, count] = [0, 0]
      for (let at = 0; at < 9; at++) {
        const column = (cell % columns) + (at % 3) - 1
        const beside = cell + (at % 3) - 1 + (Math.floor(at / 3) - 1) * columns
        if (column < 0 || column >= columns || (rings[beside] ?? unreached) >= ring) continue
        sum += filled[beside] as number
        count++
      }
      if (count === 0) return
      filled[cell] = sum / count
      rings[cell] = ring
      found = true
    })
  }
  return { levelDb: filled, rings }
}
