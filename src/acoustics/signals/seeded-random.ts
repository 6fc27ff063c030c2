/**
 * Seeded random numbers, uniform from 0 (included) to 1 (excluded): the generator mulberry32, a 32-bit counter with a
 * mixing function, period 2³². Own code because Math.random takes no seed and noise must be the same at every visit.
 * Fit for phases and tests, not for secrets.
 *
 * @param seed  whole number; its lowest 32 bits count
 * @returns  a function that gives the next number at each call
 * Source: Tommy Ettinger's mulberry32, public domain (2017).
 */
export function seededRandom(seed: number): () => number {
  let state = seed | 0
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}
