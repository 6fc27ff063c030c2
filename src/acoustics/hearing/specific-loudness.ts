import { requireInRange } from '../numeric-range.ts'

/** Number of samples of a specific-loudness pattern: 0.1, 0.2, … 24.0 Bark. */
export const specificLoudnessCount = 240

/** Samples per Bark. */
export const samplesPerBark = 10

/** Checks the samples of a specific-loudness pattern and returns them unchanged: 240 finite numbers of 0 or more, else RangeError. */
export function requireSpecificLoudness(specific: Float64Array): Float64Array {
  requireInRange('specific.length', specific.length, { min: specificLoudnessCount, max: specificLoudnessCount })
  for (let i = 0; i < specificLoudnessCount; i++) {
    requireInRange(`specific[${i}]`, specific[i] as number, { min: 0, unit: 'sone/Bark' })
  }
  return specific
}

/**
 * Loudness of the part of a pattern below a critical-band rate, from its samples. A pattern of the loudness method rises
 * by jumps, at the lower end of a band, and falls along slopes: a step of 0.1 Bark over which it rises counts with its upper
 * value, one over which it falls with the mean of both.
 *
 * @param specific  240 samples, sone/Bark
 * @param upToBark  0 … 24 Bark
 * @returns  sone
 * Accuracy: within 0.1 % of the exact integral of the pattern, because slopes bend within a step.
 */
export function loudnessBelowBark(specific: Float64Array, upToBark: number): number {
  const end = upToBark * samplesPerBark
  let sum = 0
  let before = 0
  for (let i = 0; i < specificLoudnessCount && i < end; i++) {
    const after = specific[i] as number
    const part = Math.min(1, end - i)
    const from = Math.max(before, after)
    sum += part * (from + (part * (after - from)) / 2)
    before = after
  }
  return sum / samplesPerBark
}
