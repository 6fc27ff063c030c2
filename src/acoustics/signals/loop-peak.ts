import { requireInRange } from '../numeric-range.ts'
import { type HalfSpectrum, inverseRealDft, realDft } from './dft.ts'

/** Samples that one step of the convolution brings out: quickest for responses of 8192 to 131 072 samples. */
const stepSamples = 16384

/**
 * Prepares the peaks of a loop as it arrives through a response:  max_n | Σ_m h_m x_{(n − m) mod N} |
 *
 * The loop is periodic, so this is all that a listener gets once it has played for as long as the response is. The
 * convolution is done by transforms of two steps, a piece of the response at a time (overlap and save). The transforms of
 * the loop are kept: about 16 bytes a sample of it.
 *
 * @param loop  one period, at least one sample, finite
 * @returns  gives the peak through a response of at least one sample, finite; re full scale of the loop
 * @throws   RangeError for a loop or a response without samples, or with one that is not finite
 * Accuracy: double precision; between samples the wave may rise a little higher.
 */
export function createLoopPeak(loop: ArrayLike<number>): (response: ArrayLike<number>) => number {
  const period = requireInRange('loop.length', loop.length, { min: 1, integer: true })
  for (let n = 0; n < period; n++) requireInRange(`loop[${n}]`, loop[n] as number)
  const spectra = new Map<number, HalfSpectrum>()
  /** Transform of a block of the loop going round, with the block before it. */
  const blockSpectrum = (block: number): HalfSpectrum => {
    const known = spectra.get(block)
    if (known) return known
    const from = (block - 1) * stepSamples
    const pair = Float64Array.from({ length: 2 * stepSamples }, (_, i) => {
      const n = (from + i) % period
      return loop[n < 0 ? n + period : n] as number
    })
    const spectrum = realDft(pair)
    spectra.set(block, spectrum)
    return spectrum
  }
  return (response) => {
    requireInRange('response.length', response.length, { min: 1, integer: true })
    const pieces = Array.from({ length: Math.ceil(response.length / stepSamples) }, (_, piece) => {
      const padded = new Float64Array(2 * stepSamples)
      const from = piece * stepSamples
      const samples = Math.min(stepSamples, response.length - from)
      for (let i = 0; i < samples; i++)
        padded[i] = requireInRange(`response[${from + i}]`, response[from + i] as number)
      return realDft(padded)
    })
    let peak = 0
    for (let block = 0; block * stepSamples < period; block++) {
      const sum = { re: new Float64Array(stepSamples + 1), im: new Float64Array(stepSamples + 1) }
      for (const [piece, spectrum] of pieces.entries()) addProduct(sum, spectrum, blockSpectrum(block - piece))
      const arriving = inverseRealDft(sum, 2 * stepSamples)
      // The first half has come round and is thrown away.
      for (let i = stepSamples; i < arriving.length; i++) peak = Math.max(peak, Math.abs(arriving[i] as number))
    }
    return peak
  }
}

/** Adds a · b to a sum, line by line: most of the work in a long response. */
function addProduct(sum: HalfSpectrum, a: HalfSpectrum, b: HalfSpectrum): void {
  const { re, im } = sum
  for (let k = 0; k < re.length; k++) {
    const aRe = a.re[k] as number
    const aIm = a.im[k] as number
    const bRe = b.re[k] as number
    const bIm = b.im[k] as number
    re[k] = (re[k] as number) + aRe * bRe - aIm * bIm
    im[k] = (im[k] as number) + aRe * bIm + aIm * bRe
  }
}
