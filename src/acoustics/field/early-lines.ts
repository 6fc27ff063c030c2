import { squaredMagnitude } from '../complex.ts'
import { absorptionDbPerM } from '../medium/absorption.ts'
import type { Air } from '../medium/air.ts'
import type { Point } from '../point.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { visitEarlyImages } from './early-sound.ts'
import type { Hall } from './hall.ts'
import { axesOf, axisFactor } from './hall-axes.ts'
import { inStepWavelengths } from './hall-levels.ts'
import { handedOver } from './hand-over.ts'
import { type PlacedSource, toSourcePoint } from './placed-source.ts'
import { driveOf } from './pressure-from.ts'
import { isSilent } from './rig-sources.ts'

/** Direct sound and early images by line: the pressure of what adds in step, and the mean square of what adds by energy. */
export type EarlyLines = { re: Float64Array; im: Float64Array; energy: Float64Array }

/** Of what adds by energy every so many lines are worked out, the others lie between them. */
const knotStep = 3

/** An image of a listener: where it is for the source, how late and how far faded, and by line what walls and air leave of it. */
type EarlyImage = { point: Point; lateM: number; weights: Float64Array }

/**
 * Direct sound and early images of a source at many lines: what earlySoundAt gives line by line as a 'band'.
 *
 *   in step   Σ w p(line),                 images up to six wavelengths late, exact
 *   energy    Σ (1 − kept²) w² |p(line)|²  exact as long as any of it is in step; beyond, |p|² is worked out at every third line, and lies
 *                                          even in dB between
 *
 * @param hz     lines, rising, about as many to each octave
 * @param first  the line from which on it is wanted
 * @returns      by source (its drive counted) and listener, both inside the hall; lines before `first` are 0
 * @throws RangeError as axesOf
 * Accuracy: with 24 lines an octave the third octaves of one cabinet are within 0.3 dB of earlySoundAt's, 0.05 dB r.m.s. (test).
 */
export function earlyLines(hall: Hall, air: Air, hz: Float64Array, first = 0) {
  const imagesOf = imagesIn(hall, air, hz, first)
  const wavelengthsM = hz.map((frequencyHz) => air.speedOfSoundMps / frequencyHz)
  const inStep = Array.from(wavelengthsM, (wavelengthM) => ({
    fromM: inStepWavelengths.from * wavelengthM,
    toM: inStepWavelengths.to * wavelengthM,
  }))
  return (source: PlacedSource) => {
    const radiations = Array.from(hz, (frequencyHz, line) =>
      line < first ? undefined : soundingOrNot(source.radiation(frequencyHz)),
    )
    const drives = Array.from(hz, (frequencyHz) => driveOf(source, frequencyHz))
    const isHeard = source.gain !== 0 && radiations.some((radiation) => radiation !== undefined)
    return (listener: Point): EarlyLines => {
      const lines = {
        re: new Float64Array(hz.length),
        im: new Float64Array(hz.length),
        energy: new Float64Array(hz.length),
      }
      if (!isHeard) return lines
      for (const { point, lateM, weights } of imagesOf(source, listener)) {
        let line = first
        for (; line < hz.length; line++) {
          const stepping = inStep[line] as (typeof inStep)[number]
          if (lateM >= stepping.toM) break
          const radiation = radiations[line]
          if (!radiation) continue
          const kept = 1 - handedOver(stepping, lateM)
          const weight = weights[line] as number
          const p = radiation.pressureAt(point)
          const drive = drives[line] as { re: number; im: number }
          const re = weight * (p.re * drive.re - p.im * drive.im)
          const im = weight * (p.re * drive.im + p.im * drive.re)
          lines.re[line] = (lines.re[line] as number) + kept * re
          lines.im[line] = (lines.im[line] as number) + kept * im
          lines.energy[line] = (lines.energy[line] as number) + (1 - kept * kept) * (re * re + im * im)
        }
        addEnergy(radiations, point, weights, source.gain ** 2, line, lines.energy)
      }
      return lines
    }
  }
}

/** Adds the mean squares of one image from a line on. */
function addEnergy(
  radiations: readonly (Radiation | undefined)[],
  point: Point,
  weights: Float64Array,
  factor: number,
  from: number,
  energy: Float64Array,
): void {
  const squareAt = (line: number): number => {
    const radiation = radiations[line]
    return radiation ? squaredMagnitude(radiation.pressureAt(point)) : 0
  }
  const last = radiations.length - 1
  let low = squareAt(from)
  for (let knot = from; knot <= last; knot += knotStep) {
    const next = Math.min(last, knot + knotStep)
    const high = next > knot ? squareAt(next) : low
    if (low > 0 || high > 0) {
      // Even in dB; a straight line where one end is silent.
      const ratio = low > 0 && high > 0 ? (high / low) ** (1 / Math.max(1, next - knot)) : 0
      let square = low
      for (let line = knot; line < knot + knotStep && line <= last; line++) {
        const weight = weights[line] as number
        energy[line] = (energy[line] as number) + factor * weight * weight * square
        square = ratio > 0 ? square * ratio : low + ((high - low) * (line + 1 - knot)) / (next - knot)
      }
    }
    low = high
  }
}

/** The early images in a hall, by source and listener. */
function imagesIn(hall: Hall, air: Air, hz: Float64Array, first: number) {
  const wanted = hz.subarray(first)
  const axesAt = Array.from(wanted, (frequencyHz) => axesOf(hall, frequencyHz))
  const nepersPerM = wanted.map((frequencyHz) => (absorptionDbPerM(frequencyHz, air) / 20) * Math.LN10)
  const sides = axesOf(hall, hz[0] as number)
  return (source: PlacedSource, listener: Point): EarlyImage[] => {
    const { position } = source
    const found: EarlyImage[] = []
    visitEarlyImages(sides, position, listener, (x, y, z, travelM, lateM, fade) => {
      const weights = new Float64Array(hz.length)
      for (const [i, [across, up, along]] of axesAt.entries()) {
        const walls = axisFactor(across, x, travelM) * axisFactor(up, y, travelM) * axisFactor(along, z, travelM)
        weights[first + i] = walls * fade * Math.exp(-(nepersPerM[i] as number) * Math.max(0, lateM))
      }
      const at = { xM: position.xM + x.offM, yM: position.yM + y.offM, zM: position.zM + z.offM }
      found.push({ point: toSourcePoint(source, at), lateM, weights })
    })
    return found
  }
}

const soundingOrNot = (radiation: Radiation): Radiation | undefined => (isSilent(radiation) ? undefined : radiation)
