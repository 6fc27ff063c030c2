/**
 * Index of the value nearest to a given one.
 *
 * @param values  at least one
 * @returns       of two that are equally near, the first
 */
export const nearestIndex = (values: readonly number[], value: number): number =>
  values.reduce(
    (best, one, index) => (Math.abs(one - value) < Math.abs((values[best] ?? one) - value) ? index : best),
    0,
  )
