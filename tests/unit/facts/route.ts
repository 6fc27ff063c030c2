/**
 * How a number of the prose is worked out a second time, apart from the functions that its page uses: by a closed form, by plain
 * sums over many lines, or from digits kept beside the checks. Where there is nothing to work out, because the number is a plain
 * read-out of a function, the checks that cover this function are named instead.
 */
export type Route =
  | {
      value: () => number
      /** In the fact's own unit. */
      within: number
      /** Why the tolerance has its size. */
      because: string
    }
  | { reads: string; checks: string[] }

/** Routes of one question by the fact's name in its table. */
export type Routes = Record<string, Route>

/** A value that the words set, or that follows from the gear's files by plain arithmetic. */
export const plain = (value: number): Route => ({
  value: () => value,
  within: 1e-9 * Math.max(1, Math.abs(value)),
  because: 'plain arithmetic; rounding only',
})

export const route = (value: () => number, within: number, because: string): Route => ({ value, within, because })

export const readOut = (reads: string, ...checks: string[]): Route => ({ reads, checks })

/** Computes a thing at its first use only. */
export function once<T>(compute: () => T): () => T {
  let value: { of: T } | undefined
  return () => {
    value ??= { of: compute() }
    return value.of
  }
}

/** Speed of sound at 20 °C as ISO 9613-1 prints it, m/s. */
export const c = 343.2
export const printedSpeed = 'the speed of sound is printed to 0.1 m/s'
