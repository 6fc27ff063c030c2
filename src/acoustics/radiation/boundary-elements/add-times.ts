/** Adds `count` numbers, from `from` on, times a factor to as many others, from `at` on. */
export function addTimes(
  to: Float64Array,
  at: number,
  values: Float64Array,
  from: number,
  factor: number,
  count: number,
): void {
  for (let i = 0; i < count; i++) to[at + i] = (to[at + i] as number) + factor * (values[from + i] as number)
}
