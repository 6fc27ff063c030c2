import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

// Plain ways to make recordings, which know nothing of the code that they test.

/** Convolution, sample by sample. */
export function convolved(signal: ArrayLike<number>, response: ArrayLike<number>): Float64Array {
  const out = new Float64Array(signal.length + response.length - 1)
  for (let m = 0; m < response.length; m++) {
    const gain = response[m] as number
    if (gain === 0) continue
    for (let n = 0; n < signal.length; n++) out[n + m] = (out[n + m] as number) + gain * (signal[n] as number)
  }
  return out
}

/** A recording as another clock has it: band-limited interpolation with a Hann-windowed sinc of 2 · 32 samples. */
export function onAnotherClock(samples: ArrayLike<number>, ratio: number): Float64Array {
  const half = 32
  return Float64Array.from({ length: Math.floor(samples.length * ratio) }, (_, i) => {
    const at = i / ratio
    const middle = Math.floor(at)
    let sum = 0
    for (let n = middle - half + 1; n <= middle + half; n++) {
      const x = at - n
      const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x)
      sum += (samples[n] ?? 0) * sinc * Math.cos((Math.PI * x) / (2 * half)) ** 2
    }
    return sum
  })
}

/** White noise of a root mean square, near enough normal: the sum of four uniform numbers. */
export function whiteNoise(length: number, rms: number, seed: number): Float64Array {
  const random = seededRandom(seed)
  const scale = rms * Math.sqrt(3)
  return Float64Array.from({ length }, () => scale * (random() + random() + random() + random() - 2))
}

export const rmsOf = (samples: ArrayLike<number>): number =>
  Math.sqrt(Array.from(samples).reduce((sum, sample) => sum + sample * sample, 0) / samples.length)

/** Adds one recording to another from a sample on. */
export function added(samples: ArrayLike<number>, other: ArrayLike<number>, from = 0): Float64Array {
  const out = Float64Array.from(samples)
  for (let n = 0; n < other.length && from + n < out.length; n++) {
    out[from + n] = (out[from + n] as number) + (other[n] as number)
  }
  return out
}
