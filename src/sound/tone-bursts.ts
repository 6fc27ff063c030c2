import { requireInRange } from '../acoustics/numeric-range.ts'
import { ceilingDb } from './ceiling.ts'

/** One short tone. */
export type ToneBurst = {
  frequencyHz: number
  /** Peak, dB re full scale, up to the ceiling. */
  peakDb: number
  /** How long it lasts with its two fades, and the silence after it, s. */
  durationS: number
  gapS: number
}

/** Each fade of a burst, s: three periods at 40 Hz, so that a low tone starts without a thump. */
export const burstFadeS = 0.08

/** Checks a burst and returns it unchanged; RangeError for what is out of range. */
export function requireBurst(burst: ToneBurst): ToneBurst {
  requireInRange('frequencyHz', burst.frequencyHz, { min: 20, max: 12500, unit: 'Hz' })
  requireInRange('peakDb', burst.peakDb, { min: -200, max: ceilingDb, unit: 'dB re full scale' })
  requireInRange('durationS', burst.durationS, { min: 2 * burstFadeS, max: 10, unit: 's' })
  requireInRange('gapS', burst.gapS, { min: 0, max: 10, unit: 's' })
  return burst
}

/**
 * Peaks of tones that are to keep their differences in level. If the strongest would pass the ceiling, all are lowered alike.
 *
 * @param relativeDb  level of each tone re a reference tone, dB, at least one
 * @param volumeDb    peak of the reference tone, dB re full scale, −100 … the ceiling (−1)
 * @returns  peaks, dB re full scale, none above the ceiling, and by how many dB all were lowered, 0 or more
 * @throws   RangeError if a number is out of range or there is no tone
 */
export function burstPeaksDb(
  relativeDb: readonly number[],
  volumeDb: number,
): { peaksDb: number[]; loweredDb: number } {
  requireInRange('volumeDb', volumeDb, { min: -100, max: ceilingDb, unit: 'dB re full scale' })
  requireInRange('relativeDb.length', relativeDb.length, { min: 1, integer: true })
  for (const [index, level] of relativeDb.entries()) {
    requireInRange(`relativeDb[${index}]`, level, { min: -100, max: 120, unit: 'dB' })
  }
  const loweredDb = Math.max(0, volumeDb + Math.max(...relativeDb) - ceilingDb)
  return { peaksDb: relativeDb.map((level) => Math.min(ceilingDb, volumeDb + level - loweredDb)), loweredDb }
}
