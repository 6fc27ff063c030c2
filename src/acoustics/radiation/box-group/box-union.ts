import type { MirrorPlanes } from '../boundary-elements/mirror-planes.ts'

/** A box with its edges along the axes: from … to, m. */
export type AxisBox = { from: Vector; to: Vector }

/** x, y, z. */
export type Vector = readonly [number, number, number]

/** Lengths that differ by less are equal, m. */
export const lengthSlackM = 1e-6

const axes = [0, 1, 2] as const
export type Axis = (typeof axes)[number]

/** A flat rectangle of a surface across `axis` at `at`; sign says whether its normal points up or down the axis. */
export type Rectangle = {
  axis: Axis
  sign: 1 | -1
  at: number
  /** Along the next axis and the one after it. */
  u: readonly [number, number]
  v: readonly [number, number]
}

/**
 * The surface of boxes that stand apart or touch. Where they touch there is no surface; rectangles that go on in one plane
 * are joined. Only the part on the positive side of the mirror planes is made, and nothing in those planes.
 *
 * @param boxes   the whole group, mirrored in `planes` into itself; no box in another
 * @param planes  through the origin
 */
export function unionSurface(boxes: readonly AxisBox[], planes: MirrorPlanes): Rectangle[] {
  return joined(rectanglesOf(boxes, [planes.x, planes.y, planes.z]))
}

/** The part of a box on the positive side of the mirror planes; null if there is none. */
export function positivePart({ from, to }: AxisBox, planes: MirrorPlanes): AxisBox | null {
  const mirrored = [planes.x, planes.y, planes.z]
  const low = axes.map((axis) => (mirrored[axis] ? Math.max(0, from[axis]) : from[axis])) as [number, number, number]
  return axes.every((axis) => to[axis] - low[axis] > lengthSlackM) ? { from: low, to } : null
}

export const nextAxis = (axis: Axis): Axis => ((axis + 1) % 3) as Axis

/** Sorted, without those that are equal. */
function cuts(places: number[]): number[] {
  const sorted = places.toSorted((a, b) => a - b)
  return sorted.filter((place, i) => i === 0 || place - (sorted[i - 1] as number) > lengthSlackM)
}

/** Space is cut along every face of every box; a cell is in a box or in the air, and the surface is what lies between. */
function rectanglesOf(boxes: readonly AxisBox[], mirrored: readonly boolean[]): Rectangle[] {
  const grid = axes.map((axis) => {
    const all = boxes.flatMap(({ from, to }) => [from[axis], to[axis]])
    if (!mirrored[axis]) return cuts(all)
    // The mirror plane itself stays exactly 0.
    return [0, ...cuts(all).filter((place) => place > lengthSlackM)]
  }) as [number[], number[], number[]]
  const inside = (cell: readonly number[]): boolean => {
    const middle = axes.map((axis) => {
      const [low, high] = [grid[axis][cell[axis] as number], grid[axis][(cell[axis] as number) + 1]]
      return low === undefined || high === undefined ? Number.NaN : (low + high) / 2
    }) as [number, number, number]
    return boxes.some(({ from, to }) => axes.every((axis) => middle[axis] > from[axis] && middle[axis] < to[axis]))
  }
  const found: Rectangle[] = []
  for (let i = 0; i + 1 < grid[0].length; i++) {
    for (let j = 0; j + 1 < grid[1].length; j++) {
      for (let k = 0; k + 1 < grid[2].length; k++) {
        const cell = [i, j, k]
        if (!inside(cell)) continue
        for (const axis of axes) {
          for (const sign of [-1, 1] as const) {
            const step = cell[axis] as number
            // Beyond a mirror plane the body goes on.
            if (sign < 0 && step === 0 && mirrored[axis]) continue
            if (inside(cell.with(axis, step + sign))) continue
            const range = (across: Axis) =>
              [grid[across][cell[across] as number], grid[across][(cell[across] as number) + 1]] as [number, number]
            const u = nextAxis(axis)
            const at = grid[axis][sign < 0 ? step : step + 1] as number
            found.push({ axis, sign, at, u: range(u), v: range(nextAxis(u)) })
          }
        }
      }
    }
  }
  return found
}

/** Rectangles of one plane that share a whole edge are made one, until none do. */
function joined(rectangles: readonly Rectangle[]): Rectangle[] {
  const rest = [...rectangles]
  const same = (a: readonly [number, number], b: readonly [number, number]) => a[0] === b[0] && a[1] === b[1]
  const union = (a: Rectangle, b: Rectangle): Rectangle | null => {
    if (a.axis !== b.axis || a.sign !== b.sign || a.at !== b.at) return null
    if (same(a.v, b.v) && a.u[1] === b.u[0]) return { ...a, u: [a.u[0], b.u[1]] }
    if (same(a.u, b.u) && a.v[1] === b.v[0]) return { ...a, v: [a.v[0], b.v[1]] }
    return null
  }
  for (let i = 0; i < rest.length; ) {
    const a = rest[i] as Rectangle
    const j = rest.findIndex((b, at) => at !== i && union(a, b) !== null)
    if (j < 0) {
      i++
      continue
    }
    rest[i] = union(a, rest[j] as Rectangle) as Rectangle
    rest.splice(j, 1)
    i = 0
  }
  return rest
}
