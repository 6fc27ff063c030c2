import { levelDb } from '../bands/decibels.ts'
import type { Band } from '../bands/octave-bands.ts'
import { type Complex, squaredMagnitude } from '../complex.ts'
import { absorptionDbPerM } from '../medium/absorption.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { bandLinesHz } from './band-levels.ts'
import { earlySound, visitEarlyImages } from './early-sound.ts'
import { type Hall, requireInHall } from './hall.ts'
import { axesOf, axisFactor } from './hall-axes.ts'
import { hallField, hallFieldCeilingHz } from './hall-field.ts'
import { handedOver } from './hand-over.ts'
import { type PlacedSource, requirePoint, toSourcePoint } from './placed-source.ts'
import { powerCurve } from './power-curve.ts'
import { driveOf } from './pressure-from.ts'
import { decayTimeS, joiningFrequencyHz, roomConstantM2 } from './reverberant-field.ts'

/** What sources send to any place in a hall, as mean squares: |p|² of the peak amplitude, Pa², or |H|² for a rig's sources. */
export type HallLevels = {
  /** Where the sum of images joins the statistics, Hz. */
  joiningHz: number
  /**
   * Mean square at a place and a frequency. 'line' keeps all early sound in phase, as a narrow-band curve shows it; 'band' adds by
   * energy what a third octave averages anyway. Throws RangeError for a place outside the hall.
   */
  meanSquareAt(listener: Point, frequencyHz: number, as: 'line' | 'band'): number
  /** Mean square of the reverberant field alone, the same everywhere: what follows the early sound. */
  lateMeanSquare(frequencyHz: number): number
  /** Level of each band at a place, dB; pink within the band. */
  bandLevelsDb(listener: Point, bands: Band[], linesPerBand?: number): Float64Array
}

/** Extra path, in wavelengths, over which early images lose step within a third octave, 0.23 of the centre wide. */
export const inStepWavelengths = { from: 3, to: 6 }

/** The join spans this factor up and down. */
const joinFactor = Math.SQRT2

/** Prepared frequencies that are kept, for the sum of images. */
const keptFields = 256

/** Frequencies whose radiations are kept. */
const keptRadiations = 2048

/**
 * Levels in a hall at all frequencies:
 *
 *   below the joining frequency f_j (Schroeder's, see joiningFrequencyHz) the full sum of images, |hallField|²;
 *   above it  |direct + early images|² + late,  late = 2 · (4ρc W/R) · F
 *
 * and from f_j/√2 to f_j·√2 a mean of the two squares, weighted by cos² and sin² over lg f. Early are images with an extra
 * path up to 17 m (50 ms), fading out from 3.4 m (10 ms) on; F is the part of the exponential decay that these do not cover,
 * and W the power that the sources radiate together. In a 'band', images more than three wavelengths late fade from a sum in
 * step to a sum of energies.
 *
 * @param sources  in the hall's coordinates
 * @param hall     see Hall
 * @param air      the medium
 * @throws RangeError for arguments out of range
 * Source: Hopkins & Stryker 1948 (direct and reverberant); Schroeder & Kuttruff 1962; the early part by images is ours.
 * Accuracy: the late field is a mean over places; third octaves at one place scatter about it by 1 to 2 dB, lines by 5.6 dB.
 */
export function hallLevels(
  sources: PlacedSource[],
  hall: Hall,
  air: Air,
  powerAt: (frequencyHz: number) => number = powerCurve(sources, air),
): HallLevels {
  requireAir(air)
  const joiningHz = Math.min(joiningFrequencyHz(hall, air), hallFieldCeilingHz / joinFactor)
  const fields = new Map<number, (listener: Point) => Complex>()
  const radiations = new Map<number, Radiation[]>()
  sources.forEach((source, index) => {
    requireInHall(`sources[${index}].position`, source.position, hall)
  })

  const fieldAt = (frequencyHz: number) => {
    let field = fields.get(frequencyHz)
    if (!field) {
      if (fields.size >= keptFields) fields.clear()
      field = hallField(sources, hall, frequencyHz, air)
      fields.set(frequencyHz, field)
    }
    return field
  }
  const radiationsAt = (frequencyHz: number): Radiation[] => {
    let known = radiations.get(frequencyHz)
    if (!known) {
      if (radiations.size >= keptRadiations) radiations.clear()
      known = sources.map((source) => source.radiation(frequencyHz))
      radiations.set(frequencyHz, known)
    }
    return known
  }
  const lateMeanSquare = (frequencyHz: number): number =>
    powerAt(frequencyHz) * lateMeanSquarePerW(hall, frequencyHz, air)
  const early = (listener: Point, frequencyHz: number, as: 'line' | 'band'): number => {
    const soundOf = earlySoundAt(hall, frequencyHz, air, as)
    const inStep = { re: 0, im: 0 }
    let energy = 0
    for (const [index, radiation] of radiationsAt(frequencyHz).entries()) {
      const sound = soundOf(sources[index] as PlacedSource, radiation, listener)
      inStep.re += sound.re
      inStep.im += sound.im
      energy += sound.energy
    }
    return squaredMagnitude(inStep) + energy
  }
  const meanSquareAt = (listener: Point, frequencyHz: number, as: 'line' | 'band'): number => {
    const above = statisticalShare(frequencyHz, joiningHz)
    let square = 0
    if (above < 1) square += (1 - above) * squaredMagnitude(fieldAt(frequencyHz)(listener))
    if (above > 0) {
      square += above * (early(listener, frequencyHz, as) + lateMeanSquare(frequencyHz))
    }
    return square
  }
  const check = (listener: Point, frequencyHz: number) => {
    requirePoint('listener', listener)
    requireInHall('listener', listener, hall)
    requireInRange('frequencyHz', frequencyHz, { min: 10, max: 1e5, unit: 'Hz' })
  }
  return {
    joiningHz,
    meanSquareAt(listener, frequencyHz, as) {
      check(listener, frequencyHz)
      return meanSquareAt(listener, frequencyHz, as)
    },
    lateMeanSquare(frequencyHz) {
      requireInRange('frequencyHz', frequencyHz, { min: 10, max: 1e5, unit: 'Hz' })
      return lateMeanSquare(frequencyHz)
    },
    bandLevelsDb(listener, bands, linesPerBand = 8) {
      return Float64Array.from(bands, (band) => {
        const lines = bandLinesHz(band, linesPerBand)
        let sum = 0
        for (const frequencyHz of lines) {
          check(listener, frequencyHz)
          sum += meanSquareAt(listener, frequencyHz, 'band')
        }
        return levelDb(sum / lines.length)
      })
    },
  }
}

/** Share of the statistics in the mean square, joiningHz as in HallLevels: sin² over lg f from f_j/√2 to f_j·√2, 0 … 1. */
export function statisticalShare(frequencyHz: number, joiningHz: number): number {
  const x = Math.log((frequencyHz / joiningHz) * joinFactor) / Math.log(joinFactor * joinFactor)
  return Math.sin((Math.PI / 2) * Math.max(0, Math.min(1, x))) ** 2
}

const lateSteps = 200

/** Part of the energy of an exponential decay that the fading early images do not cover: ∫ (1 − (1 − v)²) γe^{−γρ} dρ, γ = 6 ln 10/(cT). */
export function lateShare(decayTime: number, air: Air): number {
  if (decayTime === 0) return 0
  const perM = (6 * Math.LN10) / (air.speedOfSoundMps * decayTime)
  const { fromM, toM } = earlySound
  const step = (toM - fromM) / lateSteps
  let share = Math.exp(-perM * toM)
  for (let i = 0; i < lateSteps; i++) {
    const rho = fromM + (i + 0.5) * step
    share += (1 - (1 - handedOver(earlySound, rho)) ** 2) * perM * Math.exp(-perM * rho) * step
  }
  return share
}

/** Mean square of the reverberant field that follows the early sound, for each watt that sources radiate. Throws RangeError as roomConstantM2. */
export function lateMeanSquarePerW(hall: Hall, frequencyHz: number, air: Air): number {
  const impedance = air.densityKgM3 * air.speedOfSoundMps
  const share = lateShare(decayTimeS(hall, frequencyHz, air), air)
  return (2 * 4 * impedance * share) / roomConstantM2(hall, frequencyHz, air)
}

/** Direct sound and early images of one source: the pressure of what adds in step, and the mean square of what adds by energy. */
export type EarlySound = Complex & { energy: number }

/**
 * Direct sound and early images at one frequency, source by source: the mean square of several is |Σ in step|² + Σ energy.
 *
 * @param as  'line' keeps all in step, 'band' as much as a third octave does; see hallLevels
 * @returns   by source (its drive counted), its radiation at that frequency, and listener, both inside the hall
 */
export function earlySoundAt(hall: Hall, frequencyHz: number, air: Air, as: 'line' | 'band') {
  const axes = axesOf(hall, frequencyHz)
  const wavelengthM = air.speedOfSoundMps / frequencyHz
  const stepping = { fromM: inStepWavelengths.from * wavelengthM, toM: inStepWavelengths.to * wavelengthM }
  const airDbPerM = absorptionDbPerM(frequencyHz, air)
  return (source: PlacedSource, radiation: Radiation, listener: Point): EarlySound => {
    const sound = { re: 0, im: 0, energy: 0 }
    if (source.gain === 0) return sound
    const drive = driveOf(source, frequencyHz)
    const { position } = source
    visitEarlyImages(axes, position, listener, (x, y, z, travelM, lateM, fade) => {
      const walls = axisFactor(axes[0], x, travelM) * axisFactor(axes[1], y, travelM) * axisFactor(axes[2], z, travelM)
      const weight = walls * fade * 10 ** ((-airDbPerM * Math.max(0, lateM)) / 20)
      const at = { xM: position.xM + x.offM, yM: position.yM + y.offM, zM: position.zM + z.offM }
      const p = radiation.pressureAt(toSourcePoint(source, at))
      const kept = as === 'line' ? 1 : 1 - handedOver(stepping, lateM)
      const re = weight * (p.re * drive.re - p.im * drive.im)
      const im = weight * (p.re * drive.im + p.im * drive.re)
      sound.re += kept * re
      sound.im += kept * im
      sound.energy += (1 - kept * kept) * (re * re + im * im)
    })
    return sound
  }
}
