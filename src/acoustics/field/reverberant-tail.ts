import FFT from 'fft.js'
import type { Band } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { type HalfSpectrum, inverseRealDft } from '../signals/dft.ts'
import { seededRandom } from '../signals/seeded-random.ts'
import { earlySound } from './early-sound.ts'
import { handedOver } from './hand-over.ts'

/** What the tail of one band is to be: how fast it dies away, and the mean of |H|² over the band, 0 or more. */
export type TailBand = { band: Band; decayTimeS: number; meanSquare: number }

/** Times that a band's noise is flattened and filtered again. */
const flattenings = 12

/** Rate at which a narrow band's envelope is laid over it at least, Hz: the fade-in over 10 to 50 ms needs it. */
const leastRateHz = 2000

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
  const startM = startS * speed
  const parts = tails.map(({ band, decayTimeS, meanSquare }) => {
    const name = `band ${band.nominalHz} Hz`
    requireInRange(`upper edge of ${name}`, band.upperHz, { max: (sampleRateHz / 2) * 1.0000001, unit: 'Hz' })
    requireInRange(`decayTimeS of ${name}`, decayTimeS, { above: 0, max: 60, unit: 's' })
    requireInRange(`meanSquare of ${name}`, meanSquare, { min: 0 })
    const lines = linesOf(band, sampleRateHz, length)
    const fewest = (leastRateHz * length) / sampleRateHz
    const noise = evenNoise(lines.to - lines.from + 1, Math.min(fewest, length / 2), random)
    const size = noise.signal.length / 2
    const stepS = length / sampleRateHz / size
    const perStep = (3 * Math.LN10 * stepS) / decayTimeS
    for (let i = 0; i < size; i++) {
      const lateM = i * stepS * speed - startM
      const share = lateM <= 0 ? 0 : 1 - (1 - handedOver(earlySound, lateM)) ** 2
      const envelope = share > 0 ? Math.sqrt(share) * Math.exp(-perStep * (i - startS / stepS)) : 0
      noise.signal[2 * i] = (noise.signal[2 * i] as number) * envelope
      noise.signal[2 * i + 1] = (noise.signal[2 * i + 1] as number) * envelope
    }
    return scaledLines(noise, lines, length, meanSquare)
  })
  const spectrum = levelled(tails, parts, sampleRateHz, length)
  // Before the start there is nothing but what rounding and the end of the transform leave.
  return Float32Array.from(inverseRealDft(spectrum, length), (value, i) => (i < startS * sampleRateHz ? 0 : value))
}

/** First and last line of a band in a transform. */
type Lines = { from: number; to: number }

function linesOf({ lowerHz, upperHz }: Band, sampleRateHz: number, length: number): Lines {
  const from = Math.max(1, Math.ceil((lowerHz * length) / sampleRateHz))
  const last = Math.ceil((upperHz * length) / sampleRateHz) - 1
  return { from, to: Math.min(Math.ceil(length / 2) - 1, Math.max(from, last)) }
}

/** Lines of one band's decaying noise: re and im of line `first` + i. */
type Part = { first: number; re: Float64Array; im: Float64Array }

/** The spectrum of a band that was moved down to 0 Hz, moved up again, with Σ|H|² = meanSquare for every line of the band. */
function scaledLines({ signal, transform }: Noise, { from, to }: Lines, length: number, meanSquare: number): Part {
  const size = signal.length / 2
  const spread = new Float64Array(2 * size)
  transform.transform(spread, signal)
  const first = Math.max(1, from - size / 2)
  const count = Math.min(Math.ceil(length / 2) - 1, from + size / 2 - 1) - first + 1
  const re = new Float64Array(count)
  const im = new Float64Array(count)
  let square = 0
  for (let i = 0; i < count; i++) {
    const at = 2 * ((first + i - from + size) % size)
    re[i] = spread[at] as number
    im[i] = spread[at + 1] as number
    // What has spread below 0 Hz is, in a real signal, the mirrored line's.
    const mirrored = from + first + i
    if (mirrored <= size / 2) {
      const below = 2 * (size - mirrored)
      re[i] = (re[i] as number) + (spread[below] as number)
      im[i] = (im[i] as number) - (spread[below + 1] as number)
    }
    square += (re[i] as number) ** 2 + (im[i] as number) ** 2
  }
  const gain = square > 0 ? Math.sqrt((meanSquare * (to - from + 1)) / square) : 0
  for (let i = 0; i < count; i++) {
    re[i] = gain * (re[i] as number)
    im[i] = gain * (im[i] as number)
  }
  return { first, re, im }
}

/** Times the sum is measured and each band corrected. */
const corrections = 4

/** The sum of the bands, each raised or lowered by what it lacks: decaying noise reaches a little into the neighbouring bands. */
function levelled(
  tails: readonly TailBand[],
  parts: readonly Part[],
  sampleRateHz: number,
  length: number,
): HalfSpectrum {
  const gains = tails.map(() => 1)
  const bins = Math.floor(length / 2) + 1
  const sum = { re: new Float64Array(bins), im: new Float64Array(bins) }
  for (let pass = 0; ; pass++) {
    sum.re.fill(0)
    sum.im.fill(0)
    for (const [index, { first, re, im }] of parts.entries()) {
      const gain = gains[index] as number
      for (let i = 0; i < re.length; i++) {
        sum.re[first + i] = (sum.re[first + i] as number) + gain * (re[i] as number)
        sum.im[first + i] = (sum.im[first + i] as number) + gain * (im[i] as number)
      }
    }
    if (pass === corrections) return sum
    for (const [index, { band, meanSquare }] of tails.entries()) {
      const { from, to } = linesOf(band, sampleRateHz, length)
      let square = 0
      for (let k = from; k <= to; k++) square += (sum.re[k] as number) ** 2 + (sum.im[k] as number) ** 2
      const mean = square / (to - from + 1)
      // No more than a factor of two a pass: a band far below its neighbours holds mostly what they spill.
      const lack = mean > 0 && meanSquare > 0 ? Math.sqrt(meanSquare / mean) : 1
      gains[index] = (gains[index] as number) * Math.max(0.5, Math.min(2, lack))
    }
  }
}

/** A band's noise, complex, moved down so that its first line lies at 0 Hz, and the transform that it was made with. */
type Noise = { signal: Float64Array; transform: FFT }

/**
 * Noise within a band whose envelope hardly moves: random phases, then again and again divided by the envelope and
 * filtered back into the band. Done on the few lines of the band alone.
 *
 * @param count   lines of the band
 * @param fewest  samples that the noise is to have at least
 */
function evenNoise(count: number, fewest: number, random: () => number): Noise {
  // Sampled four times as densely as it must be, so that the envelope is known between.
  let size = 8
  while (size < 4 * count) size *= 2
  let transform = new FFT(size)
  let lines = new Float64Array(2 * size)
  let signal = new Float64Array(2 * size)
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
  if (size < fewest) {
    while (size < fewest) size *= 2
    transform = new FFT(size)
    const few = lines.subarray(0, 2 * count)
    lines = new Float64Array(2 * size)
    lines.set(few)
    signal = new Float64Array(2 * size)
  }
  transform.inverseTransform(signal, lines)
  return { signal, transform }
}
