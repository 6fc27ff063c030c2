import { toGrain } from '../../words/sizes.ts'

const metresPerInch = 0.0254

/**
 * How much of a driver moves, by the size that it is sold as: nominal inches and the diameter of what moves, m. The frame is
 * in the nominal size, so the cone with half of its surround is about five sixths of it; a dome moves as a whole. Common
 * practice, no source; the demo gear keeps to it.
 */
const movingM: readonly (readonly [inches: number, diameterM: number])[] = [
  [1, 0.025],
  [3, 0.064],
  [4, 0.084],
  [5, 0.105],
  [6.5, 0.134],
  [8, 0.166],
  [10, 0.21],
  [12, 0.26],
  [15, 0.33],
  [18, 0.38],
  [21, 0.46],
]

/** The sizes that are offered, inches; others can be typed. */
export const usualSizesIn: readonly number[] = movingM.map(([inches]) => inches)

/** The value between the two rows that it lies between, in proportion; beyond the ends by the ratio of the last row. */
function between(value: number, from: 0 | 1, to: 0 | 1): number {
  const [first, last] = [movingM[0], movingM.at(-1)] as [readonly [number, number], readonly [number, number]]
  if (value <= first[from]) return (value * first[to]) / first[from]
  if (value >= last[from]) return (value * last[to]) / last[from]
  const above = movingM.findIndex((row) => row[from] >= value)
  const [low, high] = [movingM[above - 1], movingM[above]] as [readonly [number, number], readonly [number, number]]
  return low[to] + ((value - low[from]) * (high[to] - low[to])) / (high[from] - low[from])
}

/** Diameter of what moves of a driver that is sold as so large, both m. */
export const movingDiameterM = (nominalM: number): number => toGrain(between(nominalM / metresPerInch, 0, 1))

/** What a driver of that moving diameter is sold as, both m. */
export const nominalSizeM = (diameterM: number): number => between(diameterM, 1, 0) * metresPerInch

/** The usual size that a moving diameter belongs to, inches; undefined for one between them. */
export const usualSizeOf = (diameterM: number): number | undefined =>
  movingM.find(([, known]) => Math.abs(known - diameterM) < 1e-4)?.[0]
