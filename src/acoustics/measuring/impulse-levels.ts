import type { Band } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { type HalfSpectrum, realDft } from '../signals/dft.ts'

/** A narrow band is told from at least so many lines; silence behind the response makes them denser. */
const fewestLines = 12

/**
 * Mean of |H|² over a band for pink noise, from the spectrum of a response: each line counts as 1/f.
 *
 * @param spectrum      half spectrum of a response of `length` samples
 * @param band          its edges, Hz
 * @param sampleRateHz  above 0
 * @returns  dimensionless; 0 for a band without a line in it
 */
export function pinkMeanSquare({ re, im }: HalfSpectrum, band: Band, sampleRateHz: number, length: number): number {
  const stepHz = sampleRateHz / length
  let [sum, weights] = [0, 0]
  for (let k = Math.ceil(band.lowerHz / stepHz); k * stepHz < band.upperHz && k < re.length; k++) {
    sum += ((re[k] as number) ** 2 + (im[k] as number) ** 2) / k
    weights += 1 / k
  }
  return weights === 0 ? 0 : sum / weights
}

/**
 * Level that pink noise would have in each band through an impulse response, against the noise itself:  L = 10 lg ⟨|H|²⟩
 *
 * @param response      finite samples, 2 … 2²³
 * @param sampleRateHz  1000 … 384 000 Hz
 * @param bands         any bands up to half the sample rate: third octaves, or narrower
 * @returns  dB re the input, a level a band; −Infinity where there is nothing at all
 * @throws   RangeError for arguments out of range
 * Accuracy: bands have sharp edges here; class 1 filters give the same within 0.1 dB unless a level changes by more than 10 dB a band.
 */
export function impulseLevelsDb(
  response: ArrayLike<number>,
  sampleRateHz: number,
  bands: readonly Band[],
): Float64Array {
  requireInRange('sampleRateHz', sampleRateHz, { min: 1000, max: 384000, unit: 'Hz' })
  requireInRange('response.length', response.length, { min: 2, max: 2 ** 23, integer: true })
  let narrowestHz = sampleRateHz
  for (const [i, { lowerHz, upperHz }] of bands.entries()) {
    requireInRange(`bands[${i}].lowerHz`, lowerHz, { above: 0, below: upperHz, unit: 'Hz' })
    requireInRange(`bands[${i}].upperHz`, upperHz, { max: sampleRateHz / 2, unit: 'Hz (half the sample rate)' })
    narrowestHz = Math.min(narrowestHz, upperHz - lowerHz)
  }
  const wanted = Math.max(response.length, (fewestLines * sampleRateHz) / narrowestHz)
  const length = 2 ** Math.ceil(Math.log2(requireInRange('lines of the narrowest band', wanted, { max: 2 ** 24 })))
  const padded = new Float64Array(length)
  for (let n = 0; n < response.length; n++) padded[n] = requireInRange(`response[${n}]`, response[n] as number)
  const spectrum = realDft(padded)
  return Float64Array.from(bands, (band) => 10 * Math.log10(pinkMeanSquare(spectrum, band, sampleRateHz, length)))
}
