/** Factors of the upward recurrence of orthonormal associated Legendre functions, at m (N + 1) + n. */
export type HarmonicRecurrence = {
  /** P_{n+1} = up (cos θ P_n − back P_{n−1}). */
  up: Float64Array
  back: Float64Array
  /** dP_n/dθ = (n cos θ P_n − link P_{n−1})/sin θ. */
  link: Float64Array
  /** P_{m+1}^{m+1} = start sin θ P_m^m, with the √2 of cos mφ and sin mφ taken in at m = 1. */
  start: Float64Array
}

/**
 * Recurrence for  N_nm P_n^m(cos θ),  N_nm = √((2n + 1)/4π · (n − m)!/(n + m)!) × (√2 for m > 0), without the sign (−1)^m;
 * it starts from P_0^0 = 1/√4π.
 *
 * @param order  N, whole number, 0 or more
 * Source: DLMF 14.10.3, 14.10.5 and 14.30.1.
 */
export function harmonicRecurrence(order: number): HarmonicRecurrence {
  const known = kept.get(order)
  if (known) return known
  const recurrence = recurrenceOf(order)
  if (order <= mostKeptOrder) kept.set(order, recurrence)
  return recurrence
}

/** Every frequency of a table asks for one of a few orders. */
const kept = new Map<number, HarmonicRecurrence>()
const mostKeptOrder = 60

function recurrenceOf(order: number): HarmonicRecurrence {
  const size = order + 1
  const made = {
    up: new Float64Array(size * size),
    back: new Float64Array(size * size),
    link: new Float64Array(size * size),
    start: new Float64Array(size),
  }
  for (let m = 0; m <= order; m++) {
    made.start[m] = Math.sqrt((2 * m + 3) / (2 * m + 2)) * (m === 0 ? Math.SQRT2 : 1)
    for (let n = m; n <= order; n++) {
      const at = m * size + n
      made.up[at] = Math.sqrt(((2 * n + 1) * (2 * n + 3)) / ((n + 1) ** 2 - m * m))
      if (n === m) continue
      made.back[at] = Math.sqrt((n * n - m * m) / ((2 * n - 1) * (2 * n + 1)))
      made.link[at] = Math.sqrt(((2 * n + 1) * (n * n - m * m)) / (2 * n - 1))
    }
  }
  return made
}
