import FFT from 'fft.js'
import type { Band } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft, realDft } from '../signals/dft.ts'
import { seededRandom } from '../signals/seeded-random.ts'
import { earlySound } from './hall-levels.ts'
import { handedOver } from './hand-over.ts'

/** What the tail of one band is to be: how fast it dies away, and the mean of |H|² over the band, 0 or more. */
export type TailBand = { band: Band; decayTimeS: number; meanSquare: number }

/** Times that a band's noise is flattened and filtered again. */
const flattenings = 12

/**
 * The reverberation that follows direct and early sound, as an impulse response to be added to theirs:
 *
 *   h(t) = Σ_bands a_b n_b(t) √(1 − (1 − v(cτ))²) 10^{−3τ/T_b},  τ = t − t₀
 *
 * n_b is noise within the band, the same for the same seed, with an even envelope (low-noise noise), so that the decay is
 * that of the hall and not of one throw of dice; v fades the tail in where the early images fade out (earlySound); a_b gives
 * each band the mean |H|² that it was asked for.
 *
 * @param tails         neighbouring bands in rising order, up to half the sample rate; decay times above 0 to 60 s
 * @param spec          sampleRateHz 8000 … 192 000; length 256 … 2²³ samples; startS t₀, when the direct sound arrives; speedOfSoundMps;
 *                      seed
 * @returns             length samples
 * @throws RangeError   for arguments out of range
 * Source: exponential decay of filtered noise, Moorer, Computer Music J. 3 (1979); low-noise noise by repeated division by the
 *         envelope, Kohlrausch and others, Acustica 83 (1997).
 */
export function reverberantTail(
  tails: readonly TailBand[],
  spec: { sampleRateHz: number; length: number; startS: number; speedOfSoundMps: number; seed: number },
): Float32Array {
  const sampleRateHz = requireInRange('sampleRateHz', spec.sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
  const length = requireInRange('length', spec.length, { min: 256, max: 2 ** 23, integer: true })
  const startS = requireInRange('startS', spec.startS, { min: 0, max: (length - 1) / sampleRateHz, unit: 's' })
  const speed = requireInRange('speedOfSoundMps', spec.speedOfSoundMps, { above: 0, unit: 'm/s' })
  const random = seededRandom(requireInRange('seed', spec.seed, { integer: true }))
  const noises: Float32Array[] = []
  const first = Math.ceil(startS * sampleRateHz)
  for (const { band, decayTimeS, meanSquare } of tails) {
    const name = `band ${band.nominalHz} Hz`
    requireInRange(`upper edge of ${name}`, band.upperHz, { max: (sampleRateHz / 2) * 1.0000001, unit: 'Hz' })
    requireInRange(`decayTimeS of ${name}`, decayTimeS, { above: 0, max: 60, unit: 's' })
    requireInRange(`meanSquare of ${name}`, meanSquare, { min: 0 })
    const noise = evenNoise(band, sampleRateHz, length, random)
    const perSample = (3 * Math.LN10) / (decayTimeS * sampleRateHz)
    let energy = 0
    for (let i = 0; i < length; i++) {
      const sinceStart = i - startS * sampleRateHz
      if (i < first) {
        noise[i] = 0
        continue
      }
      const share = 1 - (1 - handedOver(earlySound, (speed * sinceStart) / sampleRateHz)) ** 2
      noise[i] = (noise[i] as number) * Math.sqrt(share) * Math.exp(-perSample * sinceStart)
      energy += (noise[i] as number) ** 2
    }
    // Parseval: Σh² = (2/N) Σ_k |H_k|² over the band's lines, which are (f₂ − f₁)N/f_s many.
    const wanted = (2 * meanSquare * (band.upperHz - band.lowerHz)) / sampleRateHz
    const gain = energy > 0 ? Math.sqrt(wanted / energy) : 0
    noises.push(Float32Array.from(noise, (value) => gain * value))
  }
  return levelled(tails, noises, sampleRateHz, length)
}

/** Times the sum is measured and each band corrected. */
const corrections = 4

/** The sum of the bands, each raised or lowered by what it lacks: decaying noise reaches a little into the neighbouring bands. */
function levelled(
  tails: readonly TailBand[],
  noises: readonly Float32Array[],
  sampleRateHz: number,
  length: number,
): Float32Array {
  const gains = tails.map(() => 1)
  const out = new Float32Array(length)
  for (let pass = 0; ; pass++) {
    out.fill(0)
    for (const [index, noise] of noises.entries()) {
      const gain = gains[index] as number
      for (let i = 0; i < length; i++) out[i] = (out[i] as number) + gain * (noise[i] as number)
    }
    if (pass === corrections) return out
    const { re, im } = realDft(out)
    for (const [index, { band, meanSquare }] of tails.entries()) {
      const from = Math.ceil((band.lowerHz * length) / sampleRateHz)
      const to = Math.min(re.length - 1, Math.ceil((band.upperHz * length) / sampleRateHz) - 1)
      let sum = 0
      for (let k = from; k <= to; k++) sum += (re[k] as number) ** 2 + (im[k] as number) ** 2
      const mean = sum / Math.max(1, to - from + 1)
      // No more than a factor of two a pass: a band far below its neighbours holds mostly what they spill.
      const lack = mean > 0 && meanSquare > 0 ? Math.sqrt(meanSquare / mean) : 1
      gains[index] = (gains[index] as number) * Math.max(0.5, Math.min(2, lack))
    }
  }
}

/**
 * Noise within a band whose envelope hardly moves: random phases, then again and again divided by the envelope and
 * filtered back into the band. Done on the few lines of the band alone.
 */
function evenNoise(band: Band, sampleRateHz: number, length: number, random: () => number): Float64Array {
  const from = Math.max(1, Math.ceil((band.lowerHz * length) / sampleRateHz))
  const to = Math.min(Math.ceil(length / 2) - 1, Math.max(from, Math.ceil((band.upperHz * length) / sampleRateHz) - 1))
  const count = to - from + 1
  // The band moved down to 0 Hz, sampled four times as densely as it must be, so that the envelope is known between.
  let size = 8
  while (size < 4 * count) size *= 2
  const transform = new FFT(size)
  const lines = new Float64Array(2 * size)
  const signal = new Float64Array(2 * size)
  for (let k = 0; k < count; k++) {
    const phaseRad = 2 * Math.PI * random()
    lines[2 * k] = Math.cos(phaseRad)
    lines[2 * k + 1] = Math.sin(phaseRad)
  }
  for (let pass = 0; pass < flattenings; pass++) {
    transform.inverseTransform(signal, lines)
    for (let i = 0; i < 2 * size; i += 2) {
      const envelope = Math.hypot(signal[i] as number, signal[i + 1] as number)
      const inverse = envelope > 0 ? 1 / envelope : 0
      signal[i] = (signal[i] as number) * inverse
      signal[i + 1] = (signal[i + 1] as number) * inverse
    }
    transform.transform(lines, signal)
    lines.fill(0, 2 * count)
  }
  const bins = Math.floor(length / 2) + 1
  const spectrum = { re: new Float64Array(bins), im: new Float64Array(bins) }
  for (let k = 0; k < count; k++) {
    spectrum.re[from + k] = lines[2 * k] as number
    spectrum.im[from + k] = lines[2 * k + 1] as number
  }
  return inverseRealDft(spectrum, length)
}
