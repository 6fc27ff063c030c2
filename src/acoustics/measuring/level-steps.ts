import { median } from './median.ts'

/** A stretch of blocks, first to last (excluded), whose level stays what it is. */
export type Stretch = { from: number; to: number }

/** Fewest blocks that are a level of their own. */
const fewest = 4
/** Smallest step that is told, dB, and how many times the scatter of its own size it has to be. */
const leastStepDb = 0.6
const distinct = 6
/** Smallest trend over a whole recording that is told, dB. */
const leastTrendDb = 0.8

/** Scatter of a series around its middle that a few outliers do not widen, as a standard deviation: 1.4826 × median magnitude. */
export function robustScatter(values: readonly number[]): number {
  if (values.length === 0) return 0
  const middle = median(values)
  return 1.4826 * median(values.map((value) => Math.abs(value - middle)))
}

/** Series longer than this are looked at by medians of neighbours, so that the work stays bounded. */
const longestSeries = 400

/** Sum of the magnitudes of what is left around the middle: unlike squares, hardly moved by bangs and talk. */
function absoluteRest(values: readonly number[]): number {
  const middle = median(values)
  return values.reduce((sum, value) => sum + Math.abs(value - middle), 0)
}

/**
 * Cuts a series of levels where it steps: the cut that leaves the smallest sum of magnitudes around the medians of its two sides, then
 * each side again, as long as the step is distinct.
 *
 * @param levelsDb  one a block
 * @returns  stretches in order, at least one
 * Source:   binary segmentation, Vostrikova (1981), Soviet Math. Doklady 24, 55–59: value from memory.
 */
export function levelStretches(levelsDb: readonly number[]): Stretch[] {
  const together = Math.ceil(levelsDb.length / longestSeries)
  if (together > 1) {
    const coarse = Array.from({ length: Math.floor(levelsDb.length / together) }, (_, i) =>
      median(levelsDb.slice(i * together, (i + 1) * together)),
    )
    const found = levelStretches(coarse)
    return found.map(({ from, to }) => ({
      from: from * together,
      to: to === coarse.length ? levelsDb.length : to * together,
    }))
  }
  const cut = bestCut(levelsDb)
  if (!cut?.isDistinct) return [{ from: 0, to: levelsDb.length }]
  const before = levelStretches(levelsDb.slice(0, cut.at))
  const after = levelStretches(levelsDb.slice(cut.at)).map(({ from, to }) => ({ from: from + cut.at, to: to + cut.at }))
  return [...before, ...after]
}

/** The best place for one step, what it leaves, and whether the step is more than chance. */
function bestCut(levelsDb: readonly number[]): { at: number; rest: number; isDistinct: boolean } | undefined {
  const n = levelsDb.length
  let best: { at: number; rest: number } | undefined
  for (let at = fewest; at <= n - fewest; at++) {
    const rest = absoluteRest(levelsDb.slice(0, at)) + absoluteRest(levelsDb.slice(at))
    if (!best || rest < best.rest) best = { at, rest }
  }
  if (!best) return undefined
  const sides = [levelsDb.slice(0, best.at), levelsDb.slice(best.at)]
  const [before = 0, after = 0] = sides.map((side) => median(side))
  const residuals = sides.flatMap((side) => side.map((level) => level - median(side)))
  const errorDb = 1.2533 * robustScatter(residuals) * Math.hypot(...sides.map((side) => 1 / Math.sqrt(side.length)))
  return { ...best, isDistinct: Math.abs(after - before) >= Math.max(leastStepDb, distinct * errorDb) }
}

/**
 * Slow rise or fall of a series from its first to its last block: the median of the slopes between all pairs of blocks, times the length.
 *
 * @returns  dB, 0 if it is no more than chance or less than 0.8 dB
 * Source:   Theil (1950), Sen (1968), J. Am. Stat. Assoc. 63, 1379–1389.
 */
export function levelTrendDb(levelsDb: readonly number[]): number {
  const n = levelsDb.length
  if (n < 2 * fewest) return 0
  const slopes: number[] = []
  // Of a long recording every so manieth block, so that the pairs stay few.
  const step = Math.ceil(n / 200)
  for (let i = 0; i < n; i += step) {
    for (let j = i + step; j < n; j += step) {
      slopes.push(((levelsDb[j] as number) - (levelsDb[i] as number)) / (j - i))
    }
  }
  const slope = median(slopes)
  const rise = slope * (n - 1)
  const residuals = levelsDb.map((level, i) => level - slope * i)
  const errorDb = robustScatter(residuals) * Math.sqrt(12 / n)
  return Math.abs(rise) >= Math.max(leastTrendDb, distinct * errorDb) ? rise : 0
}

/**
 * The trend of a series if a straight line tells it better than a step does, else 0.
 *
 * @returns  as levelTrendDb
 */
export function steadyTrendDb(levelsDb: readonly number[]): number {
  const n = levelsDb.length
  const trendDb = levelTrendDb(levelsDb)
  if (trendDb === 0) return 0
  const together = Math.ceil(n / longestSeries)
  const thinned = levelsDb.filter((_, i) => i % together === 0)
  const aroundLine = absoluteRest(thinned.map((level, i) => level - (trendDb * i * together) / (n - 1)))
  return aroundLine < (bestCut(thinned)?.rest ?? 0) ? trendDb : 0
}
