import { requireInRange } from '../numeric-range.ts'

/**
 * Chance of at least k right answers in n independent trials, each right with probability p:
 *
 *   P(X ≥ k) = Σ_{i=k}^{n} C(n, i) pⁱ (1 − p)^{n−i}
 *
 * With p = ½ it is what pure guessing between two does as well or better: the exact one-sided binomial test.
 *
 * @param count.trials   n, a whole number from 1 to 100
 * @param count.atLeast  k, a whole number from 0 to n
 * @param chance         p, 0 … 1; ½ unless given
 * @returns  probability, 0 … 1
 * @throws   RangeError if a value is outside its range
 * Source:   any textbook of statistics; checked against SciPy's binomial distribution.
 * Accuracy: relative error below 1e-13; all terms are positive.
 */
export function binomialAtLeast({ trials, atLeast }: { trials: number; atLeast: number }, chance = 0.5): number {
  requireInRange('trials', trials, { integer: true, min: 1, max: 100 })
  requireInRange('atLeast', atLeast, { integer: true, min: 0, max: trials })
  requireInRange('chance', chance, { min: 0, max: 1 })
  // C(n, n) = 1 is where the sum begins, at its far end: the terms for guessing rise towards the middle.
  let ways = 1
  let sum = 0
  for (let right = trials; right >= atLeast; right--) {
    sum += ways * chance ** right * (1 - chance) ** (trials - right)
    ways = (ways * right) / (trials - right + 1)
  }
  return Math.min(1, sum)
}

/**
 * The fewest right answers that guessing between two reaches, or passes, in no more than a given share of tries.
 *
 * @param trials        a whole number from 1 to 100
 * @param significance  largest probability that counts as a pass, above 0, below 1; 0.05 is usual
 * @returns  right answers, or undefined if not even all of them are enough
 * @throws   RangeError if a value is outside its range
 */
export function fewestRightToPass(trials: number, significance: number): number | undefined {
  requireInRange('significance', significance, { above: 0, below: 1 })
  for (let atLeast = 0; atLeast <= requireInRange('trials', trials, { integer: true, min: 1, max: 100 }); atLeast++) {
    if (binomialAtLeast({ trials, atLeast }) <= significance) return atLeast
  }
  return undefined
}
