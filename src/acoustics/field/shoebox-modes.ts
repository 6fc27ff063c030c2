import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/** Inner size of a box-shaped hall, m. In the hall's coordinates the width lies along x, the height along y, the length along z. */
export type HallSize = { lengthM: number; widthM: number; heightM: number }

/** One resonance; `orders` count the pressure nodes along length, width and height. */
export type ShoeboxMode = { frequencyHz: number; orders: [number, number, number] }

/** A side of a hall, m. */
const sideRange = { min: 0.1, max: 1000, unit: 'm' }

/** More resonances than this are not listed. */
const mostModes = 1e6

/** Checks the size of a hall, 0.1 … 1000 m a side, and returns it unchanged. Throws RangeError naming the side. */
export function checkHallSize<Size extends HallSize>(size: Size, name = 'size'): Size {
  for (const side of ['lengthM', 'widthM', 'heightM'] as const) requireInRange(`${name}.${side}`, size[side], sideRange)
  return size
}

/**
 * Resonances of a box-shaped hall with rigid walls:
 *
 *   f = (c/2) √((l/L)² + (w/W)² + (h/H)²),  l, w, h = 0, 1, 2, …, not all 0
 *
 * @param size    0.1 … 1000 m a side
 * @param upToHz  highest frequency to list, itself included, above 0; not so high that there were more than a million
 * @param air     gives the speed of sound c
 * @returns       rising in frequency; of equal ones that with the lower orders of length first, then width
 * @throws RangeError for an argument outside its range
 * Source: Rayleigh, The Theory of Sound, section 267; Kuttruff, Room Acoustics, Equation (3.16).
 */
export function shoeboxModesHz(size: HallSize, upToHz: number, air: Air): ShoeboxMode[] {
  const { lengthM, widthM, heightM } = checkHallSize(size)
  const c = requireAir(air).speedOfSoundMps
  requireInRange('upToHz', upToHz, { above: 0, max: highestListedHz(size, c), unit: 'Hz' })
  const halfWaves = (2 * upToHz) / c
  const modes: ShoeboxMode[] = []
  for (let l = 0; l <= halfWaves * lengthM * (1 + 1e-12); l++) {
    for (let w = 0; w <= halfWaves * widthM * (1 + 1e-12); w++) {
      for (let h = 0; ; h++) {
        const frequencyHz = (c / 2) * Math.hypot(l / lengthM, w / widthM, h / heightM)
        if (frequencyHz > upToHz) break
        if (frequencyHz > 0) modes.push({ frequencyHz, orders: [l, w, h] })
      }
    }
  }
  return modes.sort((a, b) => a.frequencyHz - b.frequencyHz)
}

/** The frequency below which a box has fewer than mostModes resonances, from a box of whole half waves round the octant. */
function highestListedHz({ lengthM, widthM, heightM }: HallSize, c: number): number {
  const count = (frequencyHz: number) => {
    const halfWaves = (2 * frequencyHz) / c
    return (1 + halfWaves * lengthM) * (1 + halfWaves * widthM) * (1 + halfWaves * heightM)
  }
  let [low, high] = [0, 1e9]
  while (high - low > 1e-3 * high) {
    const middle = (low + high) / 2
    if (count(middle) < mostModes) low = middle
    else high = middle
  }
  return Math.floor(low)
}
