import { type Complex, fromPolar, multiply } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { frequencyRange } from '../radiation/radiation-input.ts'
import { checkPlacedSource, type PlacedSource, requirePoint, toSourcePoint } from './placed-source.ts'
import {
  type ImageFactor,
  imageFactors,
  requireInFrontOfWalls,
  requireSourcesInFrontOfWalls,
  type Wall,
  wallImages,
} from './wall-images.ts'

/**
 * Pressure of several sources in front of walls at one place: the complex sum over sources and images,
 *
 *   p = Σ_s g_s ±1 e^{−jωτ_s} Σ_i (∏ √(1 − α)) p_s(mirrored listener)
 *
 * The image of a source in a wall sends to the listener what the source itself sends to the listener's mirror image. So the
 * listener is mirrored, not the source: direction and yaw come out right for any radiation. Which images there are, see
 * wallImages: each wall's, and those of corners of perpendicular walls.
 *
 * A wall with a reflection of its own (ground) takes for the angle and the way those from the source's position.
 *
 * Left out: absorption by air; a phase or an angle in the reflection of a wall that has an absorption coefficient; edges of walls; sound
 * that comes back off cabinets.
 *
 * @param sources      any number; none gives 0
 * @param walls        0 … 12, endless planes
 * @param listener     m, in front of every wall and outside every source
 * @param frequencyHz  1e-6 … 1e6 Hz, as far as the radiations go
 * @param air          checked; how fast sound goes is up to the radiations, which have been made with an Air
 * @returns  Pa, peak, for sources per unit volume velocity
 * @throws RangeError in plain words: a place behind a wall, an absorption outside 0 … 1, a normal of no length, a value that
 *                    is not finite
 * Source: Kuttruff, Room Acoustics, section 4.1 (image sources).
 */
export function pressureFrom(
  sources: PlacedSource[],
  walls: Wall[],
  listener: Point,
  frequencyHz: number,
  air: Air,
): Complex {
  return pressureField(sources, walls, frequencyHz, air)(listener)
}

/**
 * As pressureFrom, for many places at one frequency: the radiations are asked once.
 *
 * @returns  pressure by listener, Pa, peak; it throws RangeError as pressureFrom does
 */
export function pressureField(
  sources: PlacedSource[],
  walls: Wall[],
  frequencyHz: number,
  air: Air,
): (listener: Point) => Complex {
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  sources.forEach((source, index) => {
    checkPlacedSource(source, `sources[${index}]`)
  })
  const images = wallImages(walls)
  requireSourcesInFrontOfWalls(sources, walls)
  const factors = imageFactors(images, walls, frequencyHz)
  const terms = sources.map((source) => ({
    source,
    radiation: source.radiation(frequencyHz),
    drive: driveOf(source, frequencyHz),
  }))
  return (listener) => {
    requirePoint('listener', listener)
    requireInFrontOfWalls('listener', listener, walls)
    let re = 0
    let im = 0
    for (const [index, image] of images.entries()) {
      const { factor, between } = factors[index] as ImageFactor
      if (factor === 0) continue
      const mirrored = image.mirrored(listener)
      for (const { source, radiation, drive } of terms) {
        const pressure = multiply(radiation.pressureAt(toSourcePoint(source, mirrored)), drive)
        if (between) {
          const sent = multiply(pressure, between(source.position, mirrored))
          re += sent.re
          im += sent.im
        } else {
          re += factor * pressure.re
          im += factor * pressure.im
        }
      }
    }
    return { re, im }
  }
}

/** Gain, polarity and delay of a source as one complex factor. */
export const driveOf = ({ gain, polarity, delayS }: PlacedSource, frequencyHz: number): Complex =>
  fromPolar(gain * polarity, -2 * Math.PI * frequencyHz * delayS)
