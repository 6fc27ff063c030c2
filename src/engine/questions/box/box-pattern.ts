import {
  amplitudeRatio,
  bandLevelsDb,
  type Complex,
  thirdOctaveBands,
  wrapDropDb,
  wrapFrequencyHz,
  wrapRulesHz,
} from '../../../acoustics/index.ts'
import { type AirState, airOf } from '../../scene/air.ts'

/** A box by its proportions, all against its width; the cone sits in the middle of its front. */
export type BoxShape = { heightPerWidth: number; depthPerWidth: number; coneRadiusPerWidth: number }

/**
 * What a box of one shape and any size sends to the front, the side (90°) and the rear, far away from it. Sizes and waves
 * grow together, so everything hangs on frequency × width (Hz·m), and one table serves every width.
 */
export type BoxPattern = {
  shape: BoxShape
  /** Speed of sound that the table was made for, m/s: in another air it holds at the same wavelengths. */
  speedOfSoundMps: number
  /** First frequency × width of the table, Hz·m, and the steps for each octave. */
  fromHzM: number
  stepsPerOctave: number
  /** Front re the same flow of air from a point without a box, dB: 0 in the bass, about 6 in the treble, more where the edges help. */
  frontGainDb: number[]
  /** Side re front, dB. */
  sideDb: number[]
  /** Rear re front as a complex ratio; the longer way to the edge and round it is taken out of the phase. */
  rearRe: number[]
  rearIm: number[]
  /** Frequency × width from which the side and the rear are an estimate, Hz·m. */
  estimateFromHzM: number
}

/** The three directions at one frequency or in one band; see BoxPattern. */
export type BoxLevels = { frontGainDb: number; sideDb: number; rearDb: number }

/** How far the rear must be under the front for us to speak of a shadow, dB. */
export const shadowDropDb = wrapDropDb

/** A single band is turned up by this much at both places, dB: a third octave of pink noise alone is 15 dB under the whole. */
export const bandBoostDb = 9

/** A picture of the box itself is worth waiting for up to this frequency × width, Hz·m: a second or two. */
export const solvedPictureToHzM = 400

/** From here up the rear and the side of a box of this width are an estimate, Hz. */
export const boxEstimateFromHz = (pattern: BoxPattern, widthM: number, air?: AirState): number =>
  pattern.estimateFromHzM / widthM / ofTable(pattern, air)

/** What a frequency is multiplied by to have the same wavelength in the air of the table. */
const ofTable = ({ speedOfSoundMps }: BoxPattern, air?: AirState): number =>
  speedOfSoundMps / airOf(air).speedOfSoundMps

/**
 * Levels of a box, read off the pattern between its lines. Below the table the box is far smaller than the wave and its
 * first line stands; above it the last one.
 *
 * @param pattern      from boxPattern
 * @param widthM       above 0
 * @param frequencyHz  above 0
 * @throws RangeError  for a width or a frequency that is not above 0
 */
export function boxLevels(pattern: BoxPattern, widthM: number, frequencyHz: number, air?: AirState): BoxLevels {
  const place = placeInTable(pattern, widthM, frequencyHz, air)
  const rearAtLine = (line: number) =>
    10 * Math.log10((pattern.rearRe[line] ?? 1) ** 2 + (pattern.rearIm[line] ?? 0) ** 2)
  const line = Math.min(pattern.rearRe.length - 2, Math.floor(place))
  return {
    frontGainDb: between(pattern.frontGainDb, place),
    sideDb: between(pattern.sideDb, place),
    rearDb: rearAtLine(line) + (rearAtLine(line + 1) - rearAtLine(line)) * (place - line),
  }
}

/** Lines of a third octave over which its power is averaged: five of them between two lines of the pattern. */
const linesPerBand = 24

/**
 * Levels of a box by a third octave, as pink noise in that band has them: the mean of the power over the band, in every
 * direction re the front, which is set flat; the front re the same flow of air without a box. A single frequency may lie in
 * a null that a band fills.
 *
 * @param nominalHz    of a third octave
 * @throws RangeError  for a width that is not above 0 or a frequency that is no third octave's
 */
export function boxBandLevels(pattern: BoxPattern, widthM: number, nominalHz: number, air?: AirState): BoxLevels {
  const [band] = thirdOctaveBands(nominalHz, nominalHz)
  if (!band) throw new RangeError(`nominalHz is ${nominalHz}; allowed is a nominal third octave`)
  const levelDb = (transfer: (frequencyHz: number) => Complex) =>
    bandLevelsDb(transfer, [band], linesPerBand)[0] as number
  const of = (direction: 'frontGainDb' | 'sideDb') =>
    levelDb((frequencyHz) => ({ re: amplitudeRatio(boxLevels(pattern, widthM, frequencyHz, air)[direction]), im: 0 }))
  return {
    frontGainDb: of('frontGainDb'),
    sideDb: of('sideDb'),
    rearDb: levelDb((frequencyHz) => boxRearRatio(pattern, widthM, frequencyHz, air)),
  }
}

/** Rear re front as a complex ratio, without the longer way; same arguments and errors as boxLevels. */
export const boxRearRatio = (pattern: BoxPattern, widthM: number, frequencyHz: number, air?: AirState): Complex =>
  rearAt(pattern, placeInTable(pattern, widthM, frequencyHz, air))

/**
 * The lowest frequency at which the rear is some decibels under the front, Hz.
 *
 * @param dropDb  how far under, above 0; shadowDropDb is our definition of where the shadow begins
 * @throws RangeError if the rear does not fall so far within the table
 */
export function rearDownHz(pattern: BoxPattern, widthM: number, dropDb: number, air?: AirState): number {
  const frequenciesHz = pattern.rearRe.map(
    (_, line) => (pattern.fromHzM * 2 ** (line / pattern.stepsPerOctave)) / widthM / ofTable(pattern, air),
  )
  const rearDb = frequenciesHz.map((frequencyHz) => boxLevels(pattern, widthM, frequencyHz, air).rearDb)
  const crossing = wrapFrequencyHz(frequenciesHz, rearDb, dropDb)
  if (typeof crossing === 'number') return crossing
  throw new RangeError(`dropDb is ${dropDb}; allowed is a drop that the rear reaches within its table`)
}

/** Where a box begins to cast a shadow (ours), and what two rules of thumb say instead, Hz. */
export type ShadowBegin = { computedHz: number; widthRuleHz: number; kaRuleHz: number }

/**
 * The computed begin of the shadow beside two rules that crews use: "wavelength = width of the box", f = c/w, and
 * "ka = 1" with a = half the width, f = c/(πw).
 *
 * Source: both rules are common practice, no source.
 */
export function shadowBegin(pattern: BoxPattern, widthM: number, air?: AirState): ShadowBegin {
  const { wavelengthIsWidthHz, kaIsOneHz } = wrapRulesHz(widthM, airOf(air))
  return {
    computedHz: rearDownHz(pattern, widthM, shadowDropDb, air),
    widthRuleHz: wavelengthIsWidthHz,
    kaRuleHz: kaIsOneHz,
  }
}

function placeInTable(pattern: BoxPattern, widthM: number, frequencyHz: number, air?: AirState): number {
  if (!(widthM > 0)) throw new RangeError(`widthM is ${widthM}; allowed is a number above 0 m`)
  if (!(frequencyHz > 0)) throw new RangeError(`frequencyHz is ${frequencyHz}; allowed is a number above 0 Hz`)
  const place = pattern.stepsPerOctave * Math.log2((frequencyHz * ofTable(pattern, air) * widthM) / pattern.fromHzM)
  return Math.min(pattern.sideDb.length - 1, Math.max(0, place))
}

function rearAt(pattern: BoxPattern, place: number): Complex {
  return { re: between(pattern.rearRe, place), im: between(pattern.rearIm, place) }
}

/** Straight line between the neighbours of a place in a list. */
function between(values: number[], place: number): number {
  const line = Math.min(values.length - 2, Math.floor(place))
  const below = values[line] ?? 0
  return below + ((values[line + 1] ?? below) - below) * (place - line)
}
