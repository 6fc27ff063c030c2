import type { Complex } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft } from './dft.ts'

/**
 * Impulse response of a transfer function, sampled at k · sampleRate / N for k = 0 … ⌊N/2⌋ and transformed back.
 *
 * The response is periodic in its length: a delay longer than N samples comes round again, and a ringing that has not
 * died away within N samples folds over. Choose the length with room to spare. At 0 Hz and, for even N, at half the
 * sample rate only the real part of the transfer function counts, since a real signal has no other.
 *
 * @param transfer  complex gain at a frequency in Hz, 0 Hz included; time factor e^{+jωt}, so a delay τ is e^{−jωτ}
 * @param spec      sampleRateHz above 0 to 1 000 000; length N, a whole number from 2 to 2²⁴
 * @returns  N samples, dimensionless if the transfer function is
 * @throws   RangeError if a value is outside its range, or the transfer function is not finite at a frequency
 */
export function impulseResponse(
  transfer: (frequencyHz: number) => Complex,
  spec: { sampleRateHz: number; length: number },
): Float32Array {
  const sampleRateHz = requireInRange('sampleRateHz', spec.sampleRateHz, { above: 0, max: 1e6, unit: 'Hz' })
  const length = requireInRange('length', spec.length, { integer: true, min: 2, max: 2 ** 24 })
  const bins = Math.floor(length / 2) + 1
  const re = new Float64Array(bins)
  const im = new Float64Array(bins)
  for (let k = 0; k < bins; k++) {
    const frequencyHz = (k * sampleRateHz) / length
    const gain = transfer(frequencyHz)
    if (!Number.isFinite(gain.re) || !Number.isFinite(gain.im)) {
      throw new RangeError(
        `transfer(${frequencyHz} Hz) is ${gain.re} + j ${gain.im}; allowed is a finite complex number`,
      )
    }
    re[k] = gain.re
    im[k] = gain.im
  }
  return Float32Array.from(inverseRealDft({ re, im }, length))
}
