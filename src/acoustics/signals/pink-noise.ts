import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft } from './dft.ts'
import { seededRandom } from './seeded-random.ts'

/** Lowest frequency in the noise, Hz: below hearing and loudspeakers, and 1/f density would rise without end. */
const lowestHz = 10

/** Mean square of the noise: −20 dB re full scale, which leaves headroom for its peaks of about 14 dB above rms. */
const meanSquare = 0.01

/**
 * Pink noise: power density proportional to 1/f from 10 Hz to half the sample rate, so equal power in every third octave.
 *
 * Made by an inverse DFT with random phases. The line at f of spacing Δ carries exactly the power that a 1/f density has
 * between f − Δ/2 and f + Δ/2, which is proportional to ln((f + Δ/2)/(f − Δ/2)). Every line is periodic in the
 * duration, so the noise loops without a seam.
 *
 * @param spec  sampleRateHz 8000 … 192 000; durationS 0.1 … 120; seed any whole number (same seed, same noise)
 * @returns  round(durationS · sampleRateHz) samples, mean square 1 × 10⁻² (exact before rounding to 32 bits)
 * @throws   RangeError if a value is outside its range
 * Accuracy: third octaves from 25 Hz to 20 kHz equal within 0.1 dB at 48 kHz from a duration of 2 s; a shorter loop has
 *           too few lines in the lowest bands.
 */
export function pinkNoise(spec: { sampleRateHz: number; durationS: number; seed: number }): Float32Array {
  const sampleRateHz = requireInRange('sampleRateHz', spec.sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
  const durationS = requireInRange('durationS', spec.durationS, { min: 0.1, max: 120, unit: 's' })
  const random = seededRandom(
    requireInRange('seed', spec.seed, {
      integer: true,
      min: Number.MIN_SAFE_INTEGER,
      max: Number.MAX_SAFE_INTEGER,
    }),
  )
  const length = Math.round(durationS * sampleRateHz)
  const bins = Math.floor(length / 2) + 1
  const re = new Float64Array(bins)
  const im = new Float64Array(bins)

  const lowestBin = Math.ceil((lowestHz * length) / sampleRateHz)
  let total = 0
  for (let k = lowestBin; 2 * k < length; k++) total += Math.log((k + 0.5) / (k - 0.5))
  for (let k = lowestBin; 2 * k < length; k++) {
    // A line's mean square is 2 |X_k|² / N².
    const share = Math.log((k + 0.5) / (k - 0.5)) / total
    const magnitude = length * Math.sqrt((meanSquare * share) / 2)
    const phaseRad = 2 * Math.PI * random()
    re[k] = magnitude * Math.cos(phaseRad)
    im[k] = magnitude * Math.sin(phaseRad)
  }
  return Float32Array.from(inverseRealDft({ re, im }, length))
}
