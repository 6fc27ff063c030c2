import type { Absorption, Hall } from './hall.ts'
import { reflectionFactor } from './wall-images.ts'

/** In the sum of late images no wall absorbs more than this; by then nothing is left of what it has met. */
const mostLateAbsorption = 0.9999

export type Axis = {
  /** Where the axis begins, its length, m, and the reflection factors of its two walls, low and high. */
  fromM: number
  lengthM: number
  low: number
  high: number
  /** Amplitude lost per metre along the axis by late images, 1/m, and the low wall's factor as late images have it. */
  lossPerM: number
  lateLow: number
}

/**
 * What an image sum needs of each pair of opposite walls at a frequency, in the order x, y, z: where they are, their reflection
 * factors √(1 − α), and for the late images the loss per metre that equals both.
 *
 * @throws RangeError naming the surface, for an absorption outside 0 … 1
 */
export function axesOf(hall: Hall, frequencyHz: number): [Axis, Axis, Axis] {
  const { surfaces, absorption } = hall
  const axis = (fromM: number, lengthM: number, low: [string, Absorption], high: [string, Absorption]): Axis => {
    const alpha = [low, high].map(([name, of]) => {
      const value = of(frequencyHz)
      return { value, factor: reflectionFactor(`absorption of ${name} at ${frequencyHz} Hz`, value) }
    })
    const [a, b] = alpha as [{ value: number; factor: number }, { value: number; factor: number }]
    const lateLow = Math.sqrt(1 - Math.min(mostLateAbsorption, a.value))
    const lateHigh = Math.sqrt(1 - Math.min(mostLateAbsorption, b.value))
    const lossPerM = -Math.log(lateLow * lateHigh) / (2 * lengthM)
    return { fromM, lengthM, low: a.factor, high: b.factor, lossPerM, lateLow }
  }
  const of = (name: keyof NonNullable<Hall['surfaces']>): [string, Absorption] => [name, surfaces?.[name] ?? absorption]
  return [
    axis(-hall.widthM / 2, hall.widthM, of('wallLeft'), of('wallRight')),
    axis(0, hall.heightM, of('floor'), of('ceiling')),
    axis(0, hall.lengthM, of('wallBehind'), of('wallOpposite')),
  ]
}

/** The images of a listener along one axis: distance from the source, and the walls' factor. */
export function axisImages(
  axis: Axis,
  listenerM: number,
  sourceM: number,
  withinM: number,
): { offM: number; factor: number }[] {
  const u = listenerM - axis.fromM
  const s = sourceM - axis.fromM
  const most = Math.ceil(withinM / (2 * axis.lengthM)) + 1
  const images: { offM: number; factor: number }[] = []
  const add = (offM: number, lowHits: number, highHits: number) => {
    if (Math.abs(offM) > withinM) return
    const factor = axis.low ** lowHits * axis.high ** highHits
    if (factor > 0) images.push({ offM, factor })
  }
  for (let n = -most; n <= most; n++) {
    const hits = Math.abs(n)
    add(u + 2 * n * axis.lengthM - s, hits, hits)
    add(-u + 2 * n * axis.lengthM - s, n > 0 ? n - 1 : hits + 1, hits)
  }
  return images
}
