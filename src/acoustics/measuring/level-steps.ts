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

/**
 * Cuts a series of levels where it steps: binary segmentation by the medians on both sides of every place.
 *
 * @param levelsDb  one a block
 * @returns  stretches in order, at least one
 * Source:   Vostrikova (1981), Soviet Math. Doklady 24, 55–59, for the method: value from memory; medians because of bangs and talk.
 */
export function levelStretches(levelsDb: readonly number[]): Stretch[] {
  const whole = { from: 0, to: levelsDb.length }
  const cut = bestCut(levelsDb, whole)
  if (cut === undefined) return [whole]
  const before = levelStretches(levelsDb.slice(0, cut))
  const after = levelStretches(levelsDb.slice(cut)).map(({ from, to }) => ({ from: from + cut, to: to + cut }))
  return [...before, ...after]
}

function bestCut(levelsDb: readonly number[], { from, to }: Stretch): number | undefined {
  let best: { at: number; height: number; weight: number } | undefined
  for (let at = from + fewest; at <= to - fewest; at++) {
    const before = levelsDb.slice(from, at)
    const after = levelsDb.slice(at, to)
    const height = Math.abs(median(after) - median(before))
    const weight = height * Math.sqrt((before.length * after.length) / (to - from))
    if (!best || weight > best.weight) best = { at, height, weight }
  }
  if (!best) return undefined
  const { at, height } = best
  const sides = [levelsDb.slice(from, at), levelsDb.slice(at, to)]
  const residuals = sides.flatMap((side) => side.map((level) => level - median(side)))
  // A trend leaves steps behind at every cut: within each side, the level would go on rising.
  const errorDb = 1.2533 * robustScatter(residuals) * Math.hypot(...sides.map((side) => 1 / Math.sqrt(side.length)))
  return height >= Math.max(leastStepDb, distinct * errorDb) ? at : undefined
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

/** Whether a series is told better by one straight line than by a step: the smaller scatter around it decides. */
export function isTrend(levelsDb: readonly number[], stretches: readonly Stretch[], trendDb: number): boolean {
  if (trendDb === 0) return false
  const n = levelsDb.length
  const aroundLine = robustScatter(levelsDb.map((level, i) => level - (trendDb * i) / (n - 1)))
  const aroundSteps = robustScatter(
    stretches.flatMap(({ from, to }) => {
      const middle = median(levelsDb.slice(from, to))
      return levelsDb.slice(from, to).map((level) => level - middle)
    }),
  )
  return stretches.length > 2 || aroundLine < aroundSteps
}
