import { thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { phonsFromSones } from './sone-phon.ts'
import { samplesPerBark, specificLoudnessCount } from './specific-loudness.ts'
import {
  bandwidthDb,
  diffuseFieldDb,
  lowBandGroup,
  lowCorrectionDb,
  lowRangeLimitDb,
  slopeRangeLimit,
  thresholdInQuietDb,
  transmissionDb,
  upperLimitBark,
  upperSlope,
} from './zwicker-tables.ts'

/** How loud a sound is, in all and along the scale of critical bands. */
export type Loudness = {
  /** Loudness N, sone. */
  sones: number
  /** Loudness level L_N, phon; 3 for silence, the least value of the standard's rule. */
  phons: number
  /** Specific loudness N′, sone/Bark, at 0.1, 0.2, … 24.0 Bark: 240 numbers. */
  specific: Float64Array
}

/** The bands that the loudness method takes: 28 third octaves, 25 Hz to 12.5 kHz. */
export const loudnessBands = thirdOctaveBands(25, 12500)

/** Third octaves that the low-frequency correction covers: 25 Hz to 250 Hz. */
const lowCount = lowBandGroup.length
const criticalBandCount = thresholdInQuietDb.length

/**
 * Loudness of a stationary sound by Zwicker's method, from third-octave levels.
 *
 * The pattern is integrated exactly: sone by sone the area under its flats and slopes, not the sum of its samples. The
 * standard's own program moves each band limit up by 0.0001 Bark, so that no sample is lost to rounding; here the limits stand
 * where the table has them, which makes 0.0005 sone in 83. Nothing is rounded.
 *
 * A pure tone must come with what class 1 filters let through into the neighbouring bands (about 20 dB down): alone in one
 * band it is some 10 % too quiet, because the method was made for filters.
 *
 * @param thirdOctaveLevelsDb  28 levels of the bands 25 Hz … 12.5 kHz, dB re 20 µPa, unweighted, where the head would be. −Infinity
 *                             is silence. Up to 120 dB from 25 Hz to 250 Hz, the end of the standard's correction there;
 *                             up to 140 dB above.
 * @param field                'free': from one side, in front, as outdoors; 'diffuse': from all round, as deep in a hall
 * @returns  sone, phon and the pattern
 * @throws   RangeError if there are not 28 levels, one is NaN, +Infinity or too high, or the field is neither
 * Source:   ISO 532-1:2017, method for stationary sounds (clause 5, Annex A).
 * Accuracy: within 0.001 sone of the standard's results for its test signals 1 to 3.
 */
export function zwickerLoudness(thirdOctaveLevelsDb: ArrayLike<number>, field: 'free' | 'diffuse'): Loudness {
  if (field !== 'free' && field !== 'diffuse') {
    throw new RangeError(`field is ${String(field)}; allowed is 'free' or 'diffuse'`)
  }
  requireLevels(thirdOctaveLevelsDb)
  const specific = new Float64Array(specificLoudnessCount)
  const sones = integratePattern(coreLoudness(thirdOctaveLevelsDb, field), specific)
  return { sones, phons: phonsFromSones(sones), specific }
}

function requireLevels(levelsDb: ArrayLike<number>): void {
  requireInRange('thirdOctaveLevelsDb.length', levelsDb.length, {
    min: loudnessBands.length,
    max: loudnessBands.length,
  })
  for (let i = 0; i < loudnessBands.length; i++) {
    const level = levelsDb[i] as number
    const max = i < lowCount ? 120 : 140
    if (level === -Infinity || (Number.isFinite(level) && level <= max)) continue
    requireInRange(`thirdOctaveLevelsDb[${i}] (${loudnessBands[i]?.nominalHz} Hz)`, level, { max, unit: 'dB' })
  }
}

/** 10^(0.025 LTQ) · 0.0635 of each critical band: what its core loudness is measured in, sone/Bark. */
const coreUnit = thresholdInQuietDb.map((thresholdDb) => 0.0635 * 10 ** (0.025 * thresholdDb))

/**
 * Core loudness of the 20 critical bands and a 21st of 0, sone/Bark:
 *   N′_c = 0.0635 · 10^(0.025 LTQ) · [ (0.75 + 0.25 · 10^(0.1 (L_E − DCB − LTQ)))^0.25 − 1 ],  0 where L_E ≤ LTQ
 */
function coreLoudness(levelsDb: ArrayLike<number>, field: 'free' | 'diffuse'): Float64Array {
  const core = new Float64Array(criticalBandCount + 1)
  for (let i = 0; i < lowCount; i++) {
    const band = lowBandGroup[i] as number
    core[band] = (core[band] as number) + 10 ** (0.1 * correctedLowLevelDb(levelsDb[i] as number, i))
  }
  for (let band = 0; band < criticalBandCount; band++) {
    const levelDb = band < 3 ? 10 * Math.log10(core[band] as number) : (levelsDb[lowCount + band - 3] as number)
    const fieldDb = field === 'diffuse' ? (diffuseFieldDb[band] as number) : 0
    const excitationDb = levelDb - (transmissionDb[band] as number) + fieldDb
    core[band] = criticalBandLoudness(excitationDb, band)
  }
  // The threshold rises steeply within the lowest band; this makes up for it.
  core[0] = (core[0] as number) * Math.min(1, 0.4 + 0.32 * (core[0] as number) ** 0.2)
  return core
}

function correctedLowLevelDb(levelDb: number, i: number): number {
  let range = 0
  while (
    range < lowRangeLimitDb.length - 1 &&
    levelDb > (lowRangeLimitDb[range] as number) - (lowCorrectionDb[range]?.[i] as number)
  ) {
    range++
  }
  return levelDb + (lowCorrectionDb[range]?.[i] as number)
}

function criticalBandLoudness(excitationDb: number, band: number): number {
  const thresholdDb = thresholdInQuietDb[band] as number
  if (excitationDb <= thresholdDb) return 0
  const ratio = 10 ** (0.1 * (excitationDb - (bandwidthDb[band] as number) - thresholdDb))
  return Math.max(0, (coreUnit[band] as number) * (Math.sqrt(Math.sqrt(0.75 + 0.25 * ratio)) - 1))
}

/**
 * Goes up the scale band by band. Where a band's core loudness is at least what comes from below, the pattern is flat at
 * it; where it is less, the pattern falls from what comes from below until it meets it, steeper the higher it is: that
 * is how low sounds mask higher ones. Writes the samples and returns the area, sone.
 */
function integratePattern(core: Float64Array, specific: Float64Array): number {
  let sones = 0
  let z = 0
  let value = 0
  let range = 0
  let sample = 1
  for (let band = 0; band < core.length; band++) {
    const floor = core[band] as number
    const end = upperLimitBark[band] as number
    // Nothing comes from below into the first band, so no slope starts there.
    const column = Math.min(Math.max(band - 1, 0), 7)
    while (z < end) {
      let slope = 0
      let next = end
      let nextValue = floor
      if (value > floor) {
        slope = upperSlope[range]?.[column] as number
        nextValue = Math.max(floor, slopeRangeLimit[range] as number)
        next = z + (value - nextValue) / slope
        if (next > end) {
          next = end
          nextValue = value - (end - z) * slope
        }
      } else {
        value = floor
        range = 0
      }
      sones += ((value + nextValue) / 2) * (next - z)
      for (; sample / samplesPerBark <= next; sample++) {
        specific[sample - 1] = Math.max(0, value - (sample / samplesPerBark - z) * slope)
      }
      z = next
      value = nextValue
      while (range < slopeRangeLimit.length - 1 && value <= (slopeRangeLimit[range] as number)) range++
    }
  }
  return sones
}
