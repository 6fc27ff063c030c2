import { aWeightingDb } from '../acoustics/hearing/frequency-weighting.ts'
import { requireInRange } from '../acoustics/numeric-range.ts'

/** The test tones that show where a device's bass ends, Hz: third-octave centres, dense where small loudspeakers give up. */
export const ladderFrequenciesHz = [40, 63, 80, 100, 160, 250, 1000] as const

/** How long a tone lasts with its fades, and each fade, s. The fade is six periods of the lowest tone, so it starts without a thump. */
export const ladderToneS = 1.6
export const ladderFadeS = 0.15

/** Peak of the tone at 1 kHz, dB re full scale: quiet on purpose. */
const peakAt1kHzDb = -30

/**
 * Peak level of a test tone:  −30 − A(f)/2
 *
 * Half of what the A weighting takes from low tones is given back, so that 40 Hz is not lost merely because the ear is
 * weak there; all of it would drive a small loudspeaker into rattling, which sounds like a tone and is none.
 *
 * @param frequencyHz  40 … 1000 Hz
 * @returns  dB re full scale, −12.7 at 40 Hz to −30 at 1 kHz
 * @throws   RangeError outside the range
 * Source:   our own choice; A weighting of IEC 61672-1.
 */
export function ladderPeakDb(frequencyHz: number): number {
  requireInRange('frequencyHz', frequencyHz, { min: 40, max: 1000, unit: 'Hz' })
  return peakAt1kHzDb - aWeightingDb(frequencyHz) / 2
}
