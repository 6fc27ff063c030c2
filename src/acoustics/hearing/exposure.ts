import { requireInRange } from '../numeric-range.ts'

/**
 * Longest time a day at a level that NIOSH recommends for people at work:  T = 8 h / 2^((L − 85)/3).
 *
 * @param levelDbA  A-weighted level at the ear, dB re 20 µPa, 0 … 140 (the recommendation's ceiling)
 * @returns         hours; more than 24 below 81 dB(A)
 * @throws RangeError if the level is out of range
 * Source:   NIOSH Publication 98-126 (1998), section 1.1 and Table 1-1. A recommendation for work, not a limit for guests.
 * Accuracy: the printed table, rounded down to the second, but for its row of 99 dB(A) (18 min 59 s against 18 min 54 s by the
 *           formula), which is taken for a misprint.
 */
export function allowedExposureH(levelDbA: number): number {
  requireInRange('levelDbA', levelDbA, { min: 0, max: 140, unit: 'dB(A)' })
  return 8 / 2 ** ((levelDbA - 85) / 3)
}

/** What the World Health Organization's standard for venues allows as an average over 15 minutes, dB(A). Source: WHO, Global standard for safe listening venues and events (2022). */
export const venueLimitDbA = 100
