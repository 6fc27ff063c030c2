import { requireInRange } from '../numeric-range.ts'
import { cubicSpline } from './cubic-spline.ts'
import { type ContourParameters, contourTable } from './iso-226-table.ts'

/** Highest loudness level taken, phon. The standard states its contours up to 90 phon to 4 kHz and up to 80 phon above. */
const highestPhon = 100

const frequencyRange = { min: 20, max: 12500, unit: 'Hz' }

/**
 * Equal-loudness contour: level of a pure tone that is as loud as a 1 kHz tone of L_N dB,
 *   L_f = (10/α_f) lg { (4·10⁻¹⁰)^(0.3−α_f) [10^(0.03 L_N) − 10^0.072] + 10^(α_f (T_f + L_U)/10) } − L_U
 * for one frontal source in a free field, heard with two ears by people of 18 to 25 with normal hearing.
 *
 * The standard states it for 20 to 90 phon up to 4 kHz and 20 to 80 phon above; below 20 phon it is informative. Beyond
 * these, up to 100 phon and down to 0, this is the same formula carried on. At 2.4 phon the contour is the threshold of
 * hearing T_f at every frequency; lower values belong to no audible tone. The standard gives its parameters at the 29
 * nominal third-octave frequencies (25 Hz, 31.5 Hz …: pass a band's nominal frequency) and no rule between them.
 * Between them we draw a cubic spline of α_f, L_U and T_f over log frequency: our own choice, exact at the 29.
 *
 * @param loudnessLevelPhon  0 … 100 phon
 * @param frequencyHz        20 … 12 500 Hz
 * @returns  dB re 20 µPa
 * @throws   RangeError if an argument is out of range
 * Source:   ISO 226:2023, Formula (1) and Table 1.
 * Accuracy: the standard's at its 29 frequencies. Between them, an idea of the error: a node left out and drawn from the
 *           others, so over steps twice as wide, is missed by up to 0.1 dB below 500 Hz and by 0.3 dB rms over all (1.1 dB
 *           at worst, around 1.6 kHz).
 */
export function contourLevelDb(loudnessLevelPhon: number, frequencyHz: number): number {
  requireInRange('loudnessLevelPhon', loudnessLevelPhon, { min: 0, max: highestPhon, unit: 'phon' })
  return contourOf(loudnessLevelPhon, parametersAt(frequencyHz))
}

/**
 * Loudness level of a pure tone, the inverse of `contourLevelDb`:
 *   L_N = (100/3) lg { [10^(α_f (L_f + L_U)/10) − 10^(α_f (T_f + L_U)/10)] / (4·10⁻¹⁰)^(0.3−α_f) + 10^0.072 }
 *
 * Below the 0-phon contour, which lies below the threshold of hearing, nothing is heard and the value is 0. From 0 to
 * 2.4 phon the tone is not heard either (T_f is at 2.4 phon), but the formula still runs and comes back by `contourLevelDb`.
 *
 * @param levelDb      dB re 20 µPa, any finite number up to the 100-phon contour
 * @param frequencyHz  20 … 12 500 Hz; between the 29 nominal frequencies interpolated as in `contourLevelDb`
 * @returns  phon, 0 … 100
 * @throws   RangeError if an argument is out of range
 * Source:   ISO 226:2023, Formula (2) and Table 1; valid for the standard in the range named at `contourLevelDb`.
 */
export function loudnessLevelPhon(levelDb: number, frequencyHz: number): number {
  const parameters = parametersAt(frequencyHz)
  const highestDb = contourOf(highestPhon, parameters)
  // A level that came from the 100-phon contour may differ by rounding.
  requireInRange('levelDb', levelDb, { max: highestDb + 1e-9, unit: `dB (the 100-phon contour at ${frequencyHz} Hz)` })
  const { alpha, transferDb, thresholdDb } = parameters
  const above = 10 ** ((alpha * (levelDb + transferDb)) / 10) - 10 ** ((alpha * (thresholdDb + transferDb)) / 10)
  const audible = above / referenceSquare ** (alphaAt1kHz - alpha) + thresholdTerm
  if (audible <= 1) return 0
  return Math.min((10 / alphaAt1kHz) * Math.log10(audible), highestPhon)
}

/** (20 µPa / 1 Pa)². */
const referenceSquare = 4e-10
const alphaAt1kHz = 0.3
/** 10^(α T / 10) at 1 kHz, where T is 2.4 dB. */
const thresholdTerm = 10 ** 0.072

function contourOf(phon: number, { alpha, transferDb, thresholdDb }: ContourParameters): number {
  const loud = referenceSquare ** (alphaAt1kHz - alpha) * (10 ** ((alphaAt1kHz * phon) / 10) - thresholdTerm)
  return (10 / alpha) * Math.log10(loud + 10 ** ((alpha * (thresholdDb + transferDb)) / 10)) - transferDb
}

const logFrequency = contourTable.map(({ frequencyHz }) => Math.log(frequencyHz))
const alphaSpline = cubicSpline(
  logFrequency,
  contourTable.map(({ alpha }) => alpha),
)
const transferSpline = cubicSpline(
  logFrequency,
  contourTable.map(({ transferDb }) => transferDb),
)
const thresholdSpline = cubicSpline(
  logFrequency,
  contourTable.map(({ thresholdDb }) => thresholdDb),
)

function parametersAt(frequencyHz: number): ContourParameters {
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  const node = contourTable.find((row) => row.frequencyHz === frequencyHz)
  if (node) return node
  const x = Math.log(frequencyHz)
  return { frequencyHz, alpha: alphaSpline(x), transferDb: transferSpline(x), thresholdDb: thresholdSpline(x) }
}
