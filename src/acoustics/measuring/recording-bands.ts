import { fractionalOctaveBands } from '../bands/fractional-octave-bands.ts'
import { type Band, thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'

/** The third octaves that a recording is told in: 25 Hz to 16 kHz. */
export const recordingBands: readonly Band[] = thirdOctaveBands(25, 16000)

/**
 * The fine detail, bands of a twenty-fourth octave: from 40 Hz, below which one is narrower than the analysis resolves (about
 * 1.1 Hz), to just below 16 kHz.
 */
export const detailBands: readonly Band[] = fractionalOctaveBands(24, 40, 16000)

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
