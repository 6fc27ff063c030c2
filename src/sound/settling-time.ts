import { requireInRange } from '../acoustics/numeric-range.ts'

/** Share of a response's energy that may still be missing when it is faded in: −40 dB. */
const missingEnergyRatio = 1e-4

/** Longest wait, s. What a long reverberant tail still lacks by then builds up smoothly under the fade. */
const longestWaitS = 0.25

/**
 * How long a convolver must run, unheard, before its output can be faded in without a click. A fresh convolver knows
 * no past; at each tap of its response the signal would set in abruptly. After this time all taps but those that hold
 * the last 10⁻⁴ of the energy have passed.
 *
 * @param response      impulse response, at least one sample
 * @param sampleRateHz  above 0
 * @returns  s, 0 … 0.25; 0 for a response without energy
 * @throws   RangeError for an empty response, a sample that is not finite, or a sample rate of 0 or less
 * Source:   our own choice of threshold.
 */
export function settlingTimeS(response: Float32Array, sampleRateHz: number): number {
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, unit: 'Hz' })
  requireInRange('response.length', response.length, { min: 1, integer: true })
  let energy = 0
  for (let index = 0; index < response.length; index++) {
    const sample = requireInRange(`response[${index}]`, response[index] ?? 0)
    energy += sample * sample
  }
  let missing = 0
  let last = response.length
  while (last > 0) {
    const sample = response[last - 1] ?? 0
    if (missing + sample * sample > energy * missingEnergyRatio) break
    missing += sample * sample
    last--
  }
  return Math.min(last / sampleRateHz, longestWaitS)
}
