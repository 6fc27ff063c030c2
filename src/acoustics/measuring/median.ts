import { requireInRange } from '../numeric-range.ts'

/**
 * The middle one of some numbers in order, or the mean of the two in the middle.
 *
 * @throws RangeError if there is none
 */
export function median(values: ArrayLike<number>): number {
  requireInRange('values.length', values.length, { min: 1 })
  const sorted = Float64Array.from(values).sort()
  const half = sorted.length >> 1
  return sorted.length % 2 ? (sorted[half] as number) : ((sorted[half - 1] as number) + (sorted[half] as number)) / 2
}
