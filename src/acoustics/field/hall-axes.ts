import type { Absorption, Hall } from './hall.ts'
import { reflectionAt, type WallReflection, wallReflection } from './wall-admittance.ts'

/** Where an axis begins, its length, m, and what its two walls throw back, low and high. */
export type Axis = { fromM: number; lengthM: number; low: WallReflection; high: WallReflection }

/** An image of the listener along one axis: distance from the source, and how often each of the two walls has been met. */
export type AxisReflection = { offM: number; lowHits: number; highHits: number }

/**
 * What an image sum needs of each pair of opposite walls at a frequency, in the order x, y, z: where they are, and what they throw back.
 *
 * @throws RangeError naming the surface, for an absorption outside 0 … 1
 */
export function axesOf(hall: Hall, frequencyHz: number): [Axis, Axis, Axis] {
  const { surfaces, absorption } = hall
  const wall = (name: keyof NonNullable<Hall['surfaces']>): WallReflection => {
    const of: Absorption = surfaces?.[name] ?? absorption
    return wallReflection(`absorption of ${name} at ${frequencyHz} Hz`, of(frequencyHz))
  }
  return [
    { fromM: -hall.widthM / 2, lengthM: hall.widthM, low: wall('wallLeft'), high: wall('wallRight') },
    { fromM: 0, lengthM: hall.heightM, low: wall('floor'), high: wall('ceiling') },
    { fromM: 0, lengthM: hall.lengthM, low: wall('wallBehind'), high: wall('wallOpposite') },
  ]
}

/** The images of a listener along one axis, up to a distance from the source. */
export function axisReflections(axis: Axis, listenerM: number, sourceM: number, withinM: number): AxisReflection[] {
  const u = listenerM - axis.fromM
  const s = sourceM - axis.fromM
  const most = Math.ceil(withinM / (2 * axis.lengthM)) + 1
  const images: AxisReflection[] = []
  const add = (offM: number, lowHits: number, highHits: number) => {
    if (Math.abs(offM) <= withinM) images.push({ offM, lowHits, highHits })
  }
  for (let n = -most; n <= most; n++) {
    const hits = Math.abs(n)
    add(u + 2 * n * axis.lengthM - s, hits, hits)
    add(-u + 2 * n * axis.lengthM - s, n > 0 ? n - 1 : hits + 1, hits)
  }
  return images
}

/** The factor that the two walls of an axis leave of an image at the distance r, m: each hit at the angle at which the image's sound meets it. */
export function axisFactor({ low, high }: Axis, { offM, lowHits, highHits }: AxisReflection, rM: number): number {
  if (lowHits === 0 && highHits === 0) return 1
  const cosine = Math.min(1, Math.abs(offM) / rM)
  return power(reflectionAt(low, cosine), lowHits) * power(reflectionAt(high, cosine), highHits)
}

/** A small whole power: quicker than the general one. */
function power(base: number, exponent: number): number {
  let product = 1
  for (let i = 0; i < exponent; i++) product *= base
  return product
}
