import { certain, combinedError, type Estimate } from './estimate.ts'

/**
 * An estimate whose reference has drifted by a known amount between two looks at it, nobody knows when: the estimate keeps its level, and
 * its error takes in what the reference may have been off by in between.
 *
 *   u² = u₀² + D² / 3
 *
 * @param driftDb  D, later less earlier, dB; its sign does not count. Anything between −|D| and |D| is taken as equally likely.
 * @returns  the same level with that error
 * Source:   rectangular distribution of half width a: a/√3, Guide to the expression of uncertainty in measurement (JCGM 100:2008), 4.3.7.
 */
export function withDrift(estimate: Estimate, driftDb: number): Estimate {
  const drift = { errorDb: Math.abs(driftDb) / Math.sqrt(3), freedom: certain }
  return { levelDb: estimate.levelDb, ...combinedError([estimate, drift]) }
}
