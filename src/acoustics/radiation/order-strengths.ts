/** Σ_m |b_nm|² of each order of an expansion, n = 0 … order; its numbers stand at index n² + n + m. */
export function orderStrengths(re: ArrayLike<number>, im: ArrayLike<number>, order: number): number[] {
  return Array.from({ length: order + 1 }, (_, n) => {
    let sum = 0
    for (let t = n * n; t < (n + 1) ** 2; t++) sum += (re[t] as number) ** 2 + (im[t] as number) ** 2
    return sum
  })
}

/**
 * The highest order that is needed: those beyond it have together at most a share of the power.
 *
 * @param strengths  power of each order, from 0 on
 * @param lowest     no order below this one is returned, however little the others have
 */
export function neededOrder(strengths: ArrayLike<number>, droppedPowerShare: number, lowest: number): number {
  let total = 0
  for (let n = 0; n < strengths.length; n++) total += strengths[n] as number
  let order = strengths.length - 1
  for (let rest = 0; order > lowest; order--) {
    rest += strengths[order] as number
    if (rest > droppedPowerShare * total) break
  }
  return order
}
