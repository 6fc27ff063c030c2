/**
 * Harmonics by what they do when a direction is mirrored: `terms` lists n² + n + m of all harmonics, those that change their sign alike one after the
 * other, and the eight lists end at `ends`. List number: 1 where x → −x turns the sign, plus 2 for y, plus 4 for z.
 */
export type ParityTerms = { terms: Uint16Array; ends: Uint16Array }

const known: ParityTerms[] = []

/**
 * Real harmonics of an order and below, with sin |m|φ for negative m, by their parities: P_n^m(z) turns its sign with z where n + m is odd; cos mφ never with y, sin
 * always; with x cos mφ where m is odd, sin mφ where it is even.
 *
 * @param order  highest order, a whole number of 0 and above
 */
export function termsByParity(order: number): ParityTerms {
  const found = known[order]
  if (found) return found
  const lists = Array.from({ length: 8 }, (): number[] => [])
  for (let n = 0; n <= order; n++) {
    for (let m = -n; m <= n; m++) {
      const isSine = m < 0 ? 1 : 0
      lists[((Math.abs(m) + isSine) % 2) + 2 * isSine + 4 * ((n + Math.abs(m)) % 2)]?.push(n * n + n + m)
    }
  }
  let end = 0
  const ends = Uint16Array.from(lists, (list) => (end += list.length))
  const made = { terms: Uint16Array.from(lists.flat()), ends }
  known[order] = made
  return made
}
