import { thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft, realDft } from './dft.ts'
import { thirdOctaveAttenuationDb } from './third-octave-levels.ts'

/** Times the filter is corrected by what the bands still lack; each time leaves about a tenth of it. */
const passes = 8

/** Largest ratio of frequencies at which a band filter passes anything that counts: there it is 90 dB down. */
const reach = 1.7

/** How fast the filter falls beyond the lowest and the highest band, dB per third octave. */
const fallDb = 8

/**
 * Filters one period of a periodic signal so that its third-octave levels stand to each other as wanted.
 *
 * The filter has no phase. Its gain in dB is a straight line over log frequency from band centre to band centre, falls
 * beyond both ends, and is found by repetition: each band is raised by what its level, taken through the class 1 band
 * filter, lacks. It works round the loop, so it leaves no seam.
 *
 * @param samples       one period, finite, with some power in every wanted band
 * @param sampleRateHz  at least twice the upper edge of the highest band, to 1 000 000 Hz
 * @param wanted        levels of neighbouring third octaves in rising order, dB re anything
 * @returns  as many samples; their level is the one that they had, summed over the wanted bands
 * @throws   RangeError if a value is outside its range or a band has no power
 * Accuracy: 0.1 dB in every band for a signal whose spectrum has no gap of a third octave or more.
 */
export function shapedToThirdOctaves(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  wanted: readonly { nominalHz: number; levelDb: number }[],
): Float64Array {
  requireInRange('wanted.length', wanted.length, { min: 1 })
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, max: 1e6, unit: 'Hz' })
  const bands = thirdOctaveBands(wanted[0]?.nominalHz ?? 0, wanted.at(-1)?.nominalHz ?? 0)
  requireInRange('wanted.length', wanted.length, { min: bands.length, max: bands.length })
  requireInRange('highest band edge', bands.at(-1)?.upperHz ?? 0, { max: sampleRateHz / 2, unit: 'Hz' })
  const spectrum = realDft(samples)
  const spacingHz = sampleRateHz / samples.length
  const powers = spectrum.re.map((re, k) => re * re + (spectrum.im[k] as number) ** 2)
  const lowestHz = bands[0]?.centreHz ?? 0

  /** Weighted lines of each band: where they begin, and the power that each sends through the band filter. */
  const shares = bands.map((band) => {
    const from = Math.max(1, Math.floor(band.centreHz / reach / spacingHz))
    const to = Math.min(powers.length - 1, Math.ceil((band.centreHz * reach) / spacingHz))
    const through = Float64Array.from(
      { length: to - from + 1 },
      (_, i) => (powers[from + i] as number) * 10 ** (-thirdOctaveAttenuationDb((from + i) * spacingHz, band) / 10),
    )
    return { from, through }
  })

  const gainsDb = new Float64Array(bands.length)
  /** Gain at a place on the scale of bands, dB; 0 is the lowest band's centre. */
  const gainDbAt = (position: number): number => {
    const last = bands.length - 1
    if (position <= 0) return (gainsDb[0] as number) + fallDb * position
    if (position >= last) return (gainsDb[last] as number) - fallDb * (position - last)
    const below = Math.floor(position)
    return (
      (gainsDb[below] as number) + (position - below) * ((gainsDb[below + 1] as number) - (gainsDb[below] as number))
    )
  }
  const positions = powers.map((_, k) =>
    k === 0 ? Number.NEGATIVE_INFINITY : 10 * Math.log10((k * spacingHz) / lowestHz),
  )
  let gains = new Float64Array(powers.length)
  for (let pass = 0; pass < passes; pass++) {
    gains = positions.map((position) => 10 ** (gainDbAt(position) / 20))
    const levelsDb = shares.map(({ from, through }, band) => {
      const power = through.reduce((sum, each, i) => sum + each * (gains[from + i] as number) ** 2, 0)
      requireInRange(`power of samples in band ${bands[band]?.nominalHz} Hz`, power, { above: 0 })
      return 10 * Math.log10(power)
    })
    if (pass === passes - 1) break
    const meanLackDb =
      levelsDb.reduce((sum, levelDb, band) => sum + (wanted[band]?.levelDb ?? 0) - levelDb, 0) / bands.length
    for (const [band, levelDb] of levelsDb.entries()) {
      gainsDb[band] = (gainsDb[band] as number) + (wanted[band]?.levelDb ?? 0) - levelDb - meanLackDb
    }
  }
  return inverseRealDft(
    {
      re: spectrum.re.map((re, k) => re * (gains[k] as number)),
      im: spectrum.im.map((im, k) => im * (gains[k] as number)),
    },
    samples.length,
  )
}
