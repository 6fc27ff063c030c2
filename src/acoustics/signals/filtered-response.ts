import { type Complex, multiply } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft, realDft } from './dft.ts'

/**
 * An impulse response behind a filter:  y = IDFT( X_k H(k · sampleRate / N) )
 *
 * The response is taken as one period, as `impulseResponse` makes it, so that filtering it and filtering the transfer
 * function that it was made from are the same. What rings on past its end comes round to its beginning.
 *
 * @param response      N samples, 2 … 2²⁴, finite
 * @param filter        complex gain at a frequency in Hz, 0 Hz included
 * @param sampleRateHz  above 0 to 1 000 000 Hz
 * @returns  N samples
 * @throws   RangeError if a value is outside its range, or the filter is not finite at a frequency
 */
export function filteredResponse(
  response: ArrayLike<number>,
  filter: (frequencyHz: number) => Complex,
  sampleRateHz: number,
): Float32Array {
  const length = requireInRange('response.length', response.length, { integer: true, min: 2, max: 2 ** 24 })
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, max: 1e6, unit: 'Hz' })
  for (let n = 0; n < length; n++) requireInRange(`response[${n}]`, response[n] as number)
  const { re, im } = realDft(response)
  for (let k = 0; k < re.length; k++) {
    const frequencyHz = (k * sampleRateHz) / length
    const gain = filter(frequencyHz)
    if (!Number.isFinite(gain.re) || !Number.isFinite(gain.im)) {
      throw new RangeError(`filter(${frequencyHz} Hz) is ${gain.re} + j ${gain.im}; allowed is a finite complex number`)
    }
    const filtered = multiply({ re: re[k] as number, im: im[k] as number }, gain)
    re[k] = filtered.re
    im[k] = filtered.im
  }
  return Float32Array.from(inverseRealDft({ re, im }, length))
}
