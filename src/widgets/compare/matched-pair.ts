import { gainFromDb } from '../../sound/gain.ts'
import type { HeardRecording } from '../../sound/loop-pair.ts'

/** Where both are set, dB(A) re full scale: quiet, with room for the peaks of noise. */
const setToDb = -30
const mostPeak = 0.8

/** A recording and its A-weighted level, dB re full scale. */
export type LevelledRecording = HeardRecording & { aWeightedDb: number }

/**
 * Recordings at one A-weighted level. If the peaks of one would clip, all are turned down alike.
 *
 * @throws RangeError if a level is not finite
 */
export function matchedRecordings(recordings: readonly LevelledRecording[]): HeardRecording[] {
  const gains = recordings.map(({ aWeightedDb }) => gainFromDb(setToDb - aWeightedDb))
  const peaks = recordings.map(
    ({ samples }, index) => (gains[index] ?? 0) * samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0),
  )
  const down = Math.min(1, mostPeak / Math.max(...peaks))
  return recordings.map(({ sampleRateHz, samples }, index) => ({
    sampleRateHz,
    samples: samples.map((sample) => down * (gains[index] ?? 0) * sample),
  }))
}
