import { type Band, thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'

/** The third octaves that a recording is told in: 25 Hz to 16 kHz. */
export const recordingBands: readonly Band[] = thirdOctaveBands(25, 16000)

/** One band of the fine detail, a twenty-fourth of an octave wide. */
export type DetailBand = { centreHz: number; lowerHz: number; upperHz: number }

/** Detail bands an octave. */
const perOctave = 24
/** Ratio of frequencies of one octave in the base-ten system, 10^(3/10). */
const octaveRatio = 10 ** 0.3

/**
 * Bands of a twenty-fourth octave:  f_m = 1000 · G^((2x + 1)/48) Hz,  edges f_m · G^(±1/48),  G = 10^(3/10)
 *
 * From 40 Hz, below which one is narrower than the analysis resolves (about 1.1 Hz), to just below 16 kHz.
 * Source: IEC 61260-1:2014, Formulas (1), (3) to (5), an even number of bands an octave.
 */
export const detailBands: readonly DetailBand[] = Array.from({ length: 208 }, (_, i) => {
  const x = i - 112
  const centreHz = 1000 * octaveRatio ** ((2 * x + 1) / (2 * perOctave))
  const halfWidth = octaveRatio ** (1 / (2 * perOctave))
  return { centreHz, lowerHz: centreHz / halfWidth, upperHz: centreHz * halfWidth }
})

/** Sample rates that recordings may have, Hz. */
export const recordingRateHz = { min: 8000, max: 192000 } as const

/**
 * How many of some bands in rising order a sample rate holds: those whose upper edge is at most half the rate.
 *
 * @param sampleRateHz  8000 to 192 000 Hz
 * @throws RangeError if the rate is outside its range
 */
export function heldCount(bands: readonly { upperHz: number }[], sampleRateHz: number): number {
  requireInRange('sampleRateHz', sampleRateHz, { ...recordingRateHz, unit: 'Hz' })
  return bands.filter(({ upperHz }) => upperHz <= sampleRateHz / 2).length
}
