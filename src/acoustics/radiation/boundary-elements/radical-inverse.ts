/** Halton's sequence in one base: the digits of a whole number behind the point, in reverse. 0 … 1. */
export function radicalInverse(index: number, base: number): number {
  let value = 0
  let share = 1 / base
  for (let rest = index; rest > 0; rest = Math.floor(rest / base)) {
    value += share * (rest % base)
    share /= base
  }
  return value
}
