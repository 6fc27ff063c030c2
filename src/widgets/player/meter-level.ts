/** How far below the ceiling the meter shows anything, dB. */
export const meterRangeDb = 60

/**
 * How far a peak is under the ceiling.
 *
 * @param peak     highest sample, re digital full scale, 0 or more
 * @param ceiling  the ceiling, above 0
 * @returns  dB, −60 … 0
 */
export function levelUnderCeiling(peak: number, ceiling: number): number {
  if (!(peak > 0)) return -meterRangeDb
  return Math.min(0, Math.max(-meterRangeDb, 20 * Math.log10(peak / ceiling)))
}
