import { contours } from 'd3-contour'

/** The levels re the front that every map of the site draws a line for, unless it is told against something else, dB. */
export const contourLevelsDb = [-20, -12, -6, -3] as const

/** One contour: its open lines in grid units (0 … rows across, 0 … columns down), and where its label fits. */
export type Contour = { levelDb: number; lines: [number, number][][]; label: [number, number] | undefined }

/**
 * Lines of equal level on a map in screen order.
 *
 * @param levelDb  values, one line of `across` cells after the other
 * @param levelsDb which levels, rising, if not the usual
 * @param free     whether a label may stand at a grid position; the first fitting place nearest the middle is taken
 */
export function levelContours(
  levelDb: Float32Array,
  across: number,
  down: number,
  free: (left: number, top: number) => boolean,
  levelsDb: readonly number[] = contourLevelsDb,
): Contour[] {
  const taken: [number, number][] = []
  return contours()
    .size([across, down])
    .thresholds([...levelsDb])(Array.from(levelDb))
    .map(({ value, coordinates }) => {
      const rings = coordinates.flat() as [number, number][][]
      const lines = rings.flatMap((ring) => insideLines(ring, across, down)).filter((line) => line.length > 3)
      const label = labelPlace(lines, across, free, taken)
      if (label) taken.push(label)
      return { levelDb: value, lines, label }
    })
}

/** A contour's ring closes along the edge of the map; only the parts inside are lines of equal level. */
function insideLines(ring: [number, number][], across: number, down: number): [number, number][][] {
  const onEdge = ([left, top]: [number, number]) =>
    left <= 0.5 || top <= 0.5 || left >= across - 0.5 || top >= down - 0.5
  const lines: [number, number][][] = [[]]
  for (const point of ring) {
    if (onEdge(point)) lines.push([])
    else lines[lines.length - 1]?.push(point)
  }
  return lines.filter((line) => line.length > 1)
}

/** The point of a line that keeps clear of other labels and of what `free` rules out, nearest to half-way out. */
function labelPlace(
  lines: [number, number][][],
  across: number,
  free: (left: number, top: number) => boolean,
  taken: [number, number][],
): [number, number] | undefined {
  const clear = ([left, top]: [number, number]) =>
    free(left, top) && taken.every(([otherLeft, otherTop]) => Math.hypot(left - otherLeft, top - otherTop) > across / 9)
  return lines
    .flat()
    .filter(clear)
    .sort((a, b) => offHalfWay(a, across) - offHalfWay(b, across))[0]
}

const offHalfWay = ([left, top]: [number, number], across: number) =>
  Math.abs(Math.hypot(left - across / 2, top - across / 2) - across * 0.3)
