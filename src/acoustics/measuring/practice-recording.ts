import type { Band } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft, realDft } from '../signals/dft.ts'
import { seededRandom } from '../signals/seeded-random.ts'
import { thirdOctaveAttenuationDb } from '../signals/third-octave-levels.ts'

/** How far a microphone is off at some frequencies, in rising order, Hz and dB; in between straight over log frequency, level beyond the ends. */
export type MicrophoneOffsets = readonly { frequencyHz: number; offsetDb: number }[]

/**
 * How far a microphone is off at a frequency.
 *
 * @param frequencyHz  above 0 Hz
 * @returns  dB
 * @throws   RangeError for a frequency out of range, or no offsets
 */
export function microphoneOffsetDb(offsets: MicrophoneOffsets, frequencyHz: number): number {
  requireInRange('offsets.length', offsets.length, { min: 1 })
  requireInRange('frequencyHz', frequencyHz, { above: 0, unit: 'Hz' })
  const next = offsets.findIndex((offset) => offset.frequencyHz >= frequencyHz)
  const high = offsets[next < 0 ? offsets.length - 1 : next] as MicrophoneOffsets[number]
  const low = offsets[next < 0 ? offsets.length - 1 : Math.max(0, next - 1)] as MicrophoneOffsets[number]
  if (high.frequencyHz === low.frequencyHz) return high.offsetDb
  const share = Math.log(frequencyHz / low.frequencyHz) / Math.log(high.frequencyHz / low.frequencyHz)
  return low.offsetDb + share * (high.offsetDb - low.offsetDb)
}

/** A pair of microphones that do not match: offsets at five frequencies, the same for the same seed. Scale 1: within 2 dB. */
export function practiceMicrophone(seed: number, scale = 1): MicrophoneOffsets {
  const random = seededRandom(seed)
  const widestDb = [1.5, 0.4, 0.2, 1, 2]
  return [50, 250, 1000, 4000, 12500].map((frequencyHz, i) => ({
    frequencyHz,
    offsetDb: scale * (widestDb[i] as number) * (2 * random() - 1),
  }))
}

/**
 * A signal as a microphone records it through a response:  Y = X H M
 *
 * A signal of 2^n samples is one period and goes round; any other is followed by silence.
 *
 * @param signal        2 … 2²² samples
 * @param response      no longer than the signal
 * @param microphone    offsets, without phase; none for a perfect microphone
 * @param sampleRateHz  above 0
 * @returns  as many samples as the signal has
 * @throws   RangeError for arguments out of range
 */
export function recordedThrough(
  signal: ArrayLike<number>,
  response: ArrayLike<number>,
  microphone: MicrophoneOffsets | null,
  sampleRateHz: number,
): Float32Array {
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, max: 1e6, unit: 'Hz' })
  requireInRange('signal.length', signal.length, { min: 2, max: 2 ** 22, integer: true })
  requireInRange('response.length', response.length, { min: 1, max: signal.length, integer: true })
  const length = 2 ** Math.ceil(Math.log2(signal.length))
  const spectrumOf = (samples: ArrayLike<number>) => {
    const padded = new Float64Array(length)
    padded.set(samples)
    return realDft(padded)
  }
  const x = spectrumOf(signal)
  const h = spectrumOf(response)
  for (let k = 0; k < x.re.length; k++) {
    const gain = microphone && k > 0 ? 10 ** (microphoneOffsetDb(microphone, (k * sampleRateHz) / length) / 20) : 1
    const [a, b, c, d] = [x.re[k], x.im[k], h.re[k], h.im[k]] as [number, number, number, number]
    x.re[k] = gain * (a * c - b * d)
    x.im[k] = gain * (a * d + b * c)
  }
  return Float32Array.from(inverseRealDft(x, length).subarray(0, signal.length))
}

/** Time constant of a sound level meter set to slow, s. Source: IEC 61672-1. */
export const slowMeterS = 1

/**
 * What a band meter with slow smoothing shows at the end of a recording, if it showed something else when that began:
 *
 *   P = P₀ e^{−T/τ} + (1/τ) ∫₀^T p²(t) e^{−(T−t)/τ} dt
 *
 * @param samples       256 … 2²⁰ samples, T long
 * @param sampleRateHz  above 0
 * @param bands         third octaves up to half the sample rate
 * @param shownDb       what the meter showed before, dB re 1, a level a band; none for a meter that has shown this sound all along
 * @param timeConstantS τ, 0.01 … 20 s; slowMeterS unless given
 * @returns  dB re 1, a level a band
 * @throws   RangeError for arguments out of range
 * Source:   exponential time weighting, IEC 61672-1.
 */
export function meterLevelsDb(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  bands: readonly Band[],
  shownDb?: ArrayLike<number>,
  timeConstantS = slowMeterS,
): Float64Array {
  const length = requireInRange('samples.length', samples.length, { min: 256, max: 2 ** 20, integer: true })
  requireInRange('timeConstantS', timeConstantS, { min: 0.01, max: 20, unit: 's' })
  const perSample = 1 / (timeConstantS * sampleRateHz)
  const ends = Math.min(length / 4, 0.005 * sampleRateHz)
  const { re, im } = realDft(
    Float64Array.from(samples, (sample, n) => {
      // Cut out of a longer sound: without its ends rounded the step would fill the faint bands.
      const open = Math.min(1, (n + 0.5) / ends, (length - n - 0.5) / ends)
      return sample * Math.sin((Math.PI / 2) * open) ** 2
    }),
  )
  return Float64Array.from(bands, (band, i) => {
    requireInRange(`bands[${i}].upperHz`, band.upperHz, { max: sampleRateHz / 2, unit: 'Hz (half the sample rate)' })
    const gains = re.map((_, k) =>
      k === 0 ? 0 : 10 ** (-thirdOctaveAttenuationDb((k * sampleRateHz) / length, band) / 20),
    )
    const filtered = inverseRealDft(
      { re: re.map((v, k) => v * (gains[k] as number)), im: im.map((v, k) => v * (gains[k] as number)) },
      length,
    )
    const gone = Math.exp(-length * perSample)
    let power = 0
    filtered.forEach((value, n) => {
      power += value * value * perSample * Math.exp((n - length) * perSample)
    })
    // Without an earlier sound the meter has shown this one since long ago.
    const before = shownDb ? gone * 10 ** ((shownDb[i] as number) / 10) : (power * gone) / (1 - gone)
    return 10 * Math.log10(Math.max(power + before, 1e-30))
  })
}
