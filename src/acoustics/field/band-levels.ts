import { energySumDb, levelDb } from '../bands/decibels.ts'
import type { Band } from '../bands/octave-bands.ts'
import { type Complex, squaredMagnitude } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * The frequencies that stand for a band: midpoints of equal steps on a logarithmic scale.
 *
 * @param band   lowerHz and upperHz are used
 * @param count  1 … 1000 lines
 * @returns      Hz, rising
 * @throws RangeError if count is out of range
 */
export function bandLinesHz(band: Band, count: number): number[] {
  requireInRange('linesPerBand', count, { min: 1, max: 1000, integer: true })
  requireInRange('band.lowerHz', band.lowerHz, { above: 0, unit: 'Hz' })
  requireInRange('band.upperHz', band.upperHz, { above: band.lowerHz, unit: 'Hz' })
  const ratio = band.upperHz / band.lowerHz
  return Array.from({ length: count }, (_, i) => band.lowerHz * ratio ** ((i + 0.5) / count))
}

/**
 * Level of each band at a place, for a source with the same energy in every band and a density that falls like 1/f
 * within it, which is pink noise:  10 lg of the mean of |H|² over the band's lines.
 *
 * @param transferAt    complex transfer function of frequency, for instance of a rig at one place
 * @param bands         any bands
 * @param linesPerBand  1 … 1000, default 8: enough for path differences up to about a wavelength's worth of bands;
 *                      take more where the response has narrow dips
 * @returns             dB re |H| = 1, one for each band; −Infinity where the transfer function is 0 on every line
 * @throws RangeError   for linesPerBand out of range or a transfer value that is not finite
 */
export function bandLevelsDb(
  transferAt: (frequencyHz: number) => Complex,
  bands: Band[],
  linesPerBand = 8,
): Float64Array {
  return Float64Array.from(bands, (band) => {
    let sum = 0
    for (const frequencyHz of bandLinesHz(band, linesPerBand)) {
      sum += requireInRange(`|transfer|² at ${frequencyHz} Hz`, squaredMagnitude(transferAt(frequencyHz)), { min: 0 })
    }
    return levelDb(sum / linesPerBand)
  })
}

/**
 * Level of several bands together, energy sum over the bands whose nominal frequency is within the limits.
 *
 * @param levelsDb  one level for each band
 * @param bands     the bands
 * @param fromHz    lowest nominal frequency that counts, 0 or more
 * @param toHz      highest nominal frequency that counts, not below fromHz
 * @returns         dB; −Infinity if all of them are silent
 * @throws RangeError if the limits are out of range, hold no band, or the lengths differ
 */
export function groupLevelDb(levelsDb: ArrayLike<number>, bands: Band[], fromHz: number, toHz: number): number {
  requireInRange('levelsDb.length', levelsDb.length, { min: bands.length, max: bands.length })
  requireInRange('fromHz', fromHz, { min: 0, unit: 'Hz' })
  requireInRange('toHz', toHz, { min: fromHz, unit: 'Hz' })
  const within: number[] = []
  bands.forEach((band, i) => {
    if (band.nominalHz >= fromHz && band.nominalHz <= toHz) within.push(levelsDb[i] as number)
  })
  if (within.length === 0) {
    throw new RangeError(
      `no band has its nominal frequency from ${fromHz} to ${toHz} Hz; allowed is a range with a band`,
    )
  }
  return energySumDb(within)
}

/**
 * Level of all bands together under a frequency weighting, taken at each band's centre.
 *
 * @param levelsDb     one level for each band
 * @param bands        the bands
 * @param weightingDb  dB as a function of frequency in Hz, for instance A or C weighting
 * @returns            dB; −Infinity if every band is silent
 * @throws RangeError  if the lengths differ or there is no band
 */
export function weightedLevelDb(
  levelsDb: ArrayLike<number>,
  bands: Band[],
  weightingDb: (frequencyHz: number) => number,
): number {
  requireInRange('bands.length', bands.length, { min: 1 })
  requireInRange('levelsDb.length', levelsDb.length, { min: bands.length, max: bands.length })
  return energySumDb(bands.map((band, i) => (levelsDb[i] as number) + weightingDb(band.centreHz)))
}
