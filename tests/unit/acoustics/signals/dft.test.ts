import { describe, expect, it } from 'vitest'
import { inverseRealDft, realDft } from '../../../../src/acoustics/signals/dft.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

const randomSamples = (length: number, seed = 1): Float64Array => {
  const random = seededRandom(seed)
  return Float64Array.from({ length }, () => random() - 0.5)
}

const relativeRms = (found: ArrayLike<number>, wanted: ArrayLike<number>): number => {
  let difference = 0
  let total = 0
  for (let i = 0; i < wanted.length; i++) {
    difference += ((found[i] as number) - (wanted[i] as number)) ** 2
    total += (wanted[i] as number) ** 2
  }
  return Math.sqrt(difference / total)
}

function directSum(samples: Float64Array): number[] {
  const n = samples.length
  const values: number[] = []
  for (let k = 0; k <= Math.floor(n / 2); k++) {
    let re = 0
    let im = 0
    for (let t = 0; t < n; t++) {
      const angleRad = (2 * Math.PI * ((k * t) % n)) / n
      re += (samples[t] as number) * Math.cos(angleRad)
      im -= (samples[t] as number) * Math.sin(angleRad)
    }
    values.push(re, im)
  }
  return values
}

describe('the transform of a real signal', () => {
  // Powers of two, other even numbers, odd composites and primes, and every small length.
  const lengths = [
    ...Array.from({ length: 40 }, (_, i) => i + 1),
    64,
    100,
    128,
    255,
    256,
    257,
    375,
    480,
    997,
    1000,
    1024,
    1155,
  ]

  it('equals the direct sum that defines it at any length (relative rms 1e-14: some rounding steps of double precision)', () => {
    for (const length of lengths) {
      const samples = randomSamples(length)
      const { re, im } = realDft(samples)
      const found = Array.from(re).flatMap((value, k) => [value, im[k] as number])
      expect(relativeRms(found, directSum(samples)), `length ${length}`).toBeLessThan(1e-14)
    }
  })

  it('turns back into the signal at any length, short and long', () => {
    // 2²⁰ and above are split; 2 · 524 287 holds a prime; 480 000 is ten seconds at 48 kHz.
    for (const length of [...lengths, 480000, 65537, 2 ** 20, 2 * 524287]) {
      const samples = randomSamples(length, 3)
      expect(relativeRms(inverseRealDft(realDft(samples), length), samples), `length ${length}`).toBeLessThan(1e-14)
    }
  })

  it('keeps the energy (Parseval) at a long length of each kind', () => {
    for (const length of [2 ** 19, 2 ** 20, 441000, 99991]) {
      const samples = randomSamples(length, 5)
      const { re, im } = realDft(samples)
      const energy = samples.reduce((sum, x) => sum + x * x, 0)
      let spectrumEnergy = 0
      for (let k = 0; k < re.length; k++) {
        const sides = k === 0 || 2 * k === length ? 1 : 2
        spectrumEnergy += (sides * ((re[k] as number) ** 2 + (im[k] as number) ** 2)) / length
      }
      expect(spectrumEnergy / energy, `length ${length}`).toBeCloseTo(1, 12)
    }
  })

  it('puts a cosine of k periods on line k, and a delay is e^{−jωτ}', () => {
    const length = 2 ** 20
    const periods = 12345
    const delayed = Float64Array.from({ length }, (_, t) =>
      Math.cos((2 * Math.PI * ((periods * (t - 3)) % length)) / length),
    )
    const { re, im } = realDft(delayed)
    const phaseRad = (-2 * Math.PI * periods * 3) / length
    expect((re[periods] as number) / (length / 2)).toBeCloseTo(Math.cos(phaseRad), 10)
    expect((im[periods] as number) / (length / 2)).toBeCloseTo(Math.sin(phaseRad), 10)
    expect(Math.abs((re[periods + 1] as number) / length)).toBeLessThan(1e-12)
  })

  it('leaves the input untouched', () => {
    const samples = randomSamples(48)
    const copy = samples.slice()
    const spectrum = realDft(samples)
    const { re, im } = { re: spectrum.re.slice(), im: spectrum.im.slice() }
    inverseRealDft(spectrum, 48)
    expect(samples).toEqual(copy)
    expect(spectrum).toEqual({ re, im })
  })

  it('ignores imaginary parts at 0 Hz and half the rate, where no real signal has any', () => {
    const re = Float64Array.from([1, 0, 1])
    expect(inverseRealDft({ re, im: Float64Array.from([5, 0, 5]) }, 4)).toEqual(
      inverseRealDft({ re, im: new Float64Array(3) }, 4),
    )
  })

  it('refuses no samples, a broken length and a spectrum that does not fit', () => {
    expect(() => realDft([])).toThrow('samples.length is 0')
    const spectrum = realDft(randomSamples(8))
    for (const length of [0, -1, 7.5, Number.NaN, 2 ** 25 + 1])
      expect(() => inverseRealDft(spectrum, length)).toThrow(RangeError)
    expect(() => inverseRealDft(spectrum, 10)).toThrow('spectrum.re.length is 5')
    expect(inverseRealDft(spectrum, 9).length).toBe(9)
  })
})
