import { requireInRange } from '../numeric-range.ts'

/** A level, or a difference of levels, with its standard error, dB, and the degrees of freedom of that error (`certain` if it is known). */
export type Estimate = { levelDb: number; errorDb: number; freedom: number }

/** Levels of recordingBands, from the lowest; null where there is none: not measured, or not held. */
export type BandEstimates = (Estimate | null)[]

/** Degrees of freedom of an error that is known; finite, so that it can be kept as JSON. */
export const certain = 1e9

/** dB of a small relative change of power: 10 / ln 10. */
export const dbPerShare = 10 / Math.LN10

/** 97.5 % point of the normal distribution. Source: any textbook of statistics. */
const z = 1.959963984540054

/**
 * 97.5 % point of Student's t, so that ± t errors hold the true value in 95 of 100 cases.
 *
 * @param freedom  degrees of freedom, 1 or more; from `certain` on the normal distribution's
 * @throws RangeError if it is below 1
 * Source:   exact for 1 and 2; above, Abramowitz & Stegun 26.7.5 (four terms), within 0.5 % at 3 and better beyond.
 */
export function studentT95(freedom: number): number {
  if (freedom >= certain) return z
  const n = requireInRange('freedom', freedom, { min: 1 })
  if (n < 2) return 12.7062 + (n - 1) * (4.3027 - 12.7062)
  if (n < 3) return 4.3027 + (n - 2) * (3.1824 - 4.3027)
  const terms = [
    (z ** 3 + z) / 4,
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96,
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384,
    (79 * z ** 9 + 776 * z ** 7 + 1482 * z ** 5 - 1920 * z ** 3 - 945 * z) / 92160,
  ]
  return terms.reduce((sum, term, i) => sum + term / n ** (i + 1), z)
}

/** Half of the 95 % interval of an estimate, dB. */
export const halfIntervalDb = ({ errorDb, freedom }: Pick<Estimate, 'errorDb' | 'freedom'>): number =>
  errorDb * studentT95(Math.max(1, freedom))

/** The estimate of which only the level and half of the 95 % interval are known, dB; halfIntervalDb gives that half again. */
export const estimateOfHalf = (levelDb: number, halfDb: number): Estimate => ({
  levelDb,
  errorDb: halfDb / z,
  freedom: certain,
})

/** The 95 % interval of an estimate, dB. */
export function interval95Db(estimate: Estimate): { fromDb: number; toDb: number } {
  const half = halfIntervalDb(estimate)
  return { fromDb: estimate.levelDb - half, toDb: estimate.levelDb + half }
}

/**
 * Standard error of a sum of independent parts, and its degrees of freedom:  u² = Σ uᵢ²,  ν = u⁴ / Σ (uᵢ⁴ / νᵢ)
 *
 * @returns  errorDb 0 and freedom `certain` for no part, or parts without an error
 * Source:   Guide to the expression of uncertainty in measurement (JCGM 100:2008), formulas (10) and (G.2b) (Welch, Satterthwaite).
 */
export function combinedError(
  parts: readonly Pick<Estimate, 'errorDb' | 'freedom'>[],
): Pick<Estimate, 'errorDb' | 'freedom'> {
  const variance = parts.reduce((sum, { errorDb }) => sum + errorDb ** 2, 0)
  const loss = parts.reduce((sum, { errorDb, freedom }) => sum + errorDb ** 4 / freedom, 0)
  return {
    errorDb: Math.sqrt(variance),
    freedom: loss > 0 ? Math.min(certain, Math.max(1, variance ** 2 / loss)) : certain,
  }
}
