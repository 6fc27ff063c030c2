import { describe, expect, it } from 'vitest'
import { realDft } from '../../../../src/acoustics/signals/dft.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { thirdOctaveLevelsDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'

const meanSquare = (samples: Float32Array): number => samples.reduce((sum, x) => sum + x * x, 0) / samples.length

const unevennessDb = (spec: { sampleRateHz: number; durationS: number; seed: number }): number => {
  const levels = thirdOctaveLevelsDb(pinkNoise(spec), spec.sampleRateHz)
  const mean = levels.reduce((sum, level) => sum + level, 0) / levels.length
  return Math.max(...Array.from(levels, (level) => Math.abs(level - mean)))
}

describe('pink noise', () => {
  it('has equal third octaves from 25 Hz to 20 kHz within 0.1 dB, from 1 s up, whatever the seed', () => {
    for (const durationS of [1, 2, 3.3, 10]) {
      for (const seed of [0, 1, -5, 123456789]) {
        expect(unevennessDb({ sampleRateHz: 48000, durationS, seed }), `${durationS} s, seed ${seed}`).toBeLessThan(0.1)
      }
    }
    expect(unevennessDb({ sampleRateHz: 44100, durationS: 2, seed: 1 })).toBeLessThan(0.1)
    expect(unevennessDb({ sampleRateHz: 96000, durationS: 2, seed: 1 })).toBeLessThan(0.1)
  })

  it('has a mean square of 0.01 (32-bit rounding: 1e-8) at every length, odd ones too', () => {
    for (const [sampleRateHz, durationS] of [
      [48000, 2],
      [8000, 0.1],
      [44100, 0.30001],
      [192000, 0.5],
    ] as const) {
      const noise = pinkNoise({ sampleRateHz, durationS, seed: 4 })
      expect(noise.length).toBe(Math.round(durationS * sampleRateHz))
      expect(Math.abs(meanSquare(noise) - 0.01)).toBeLessThan(1e-8)
    }
  })

  it('loses 10 dB a decade line by line, and has nothing below 10 Hz', () => {
    const { re, im } = realDft(pinkNoise({ sampleRateHz: 48000, durationS: 4, seed: 9 }))
    const lineDb = (frequencyHz: number): number =>
      10 * Math.log10((re[4 * frequencyHz] as number) ** 2 + (im[4 * frequencyHz] as number) ** 2)
    expect(lineDb(100) - lineDb(1000)).toBeCloseTo(10, 3)
    expect(lineDb(1000) - lineDb(10000)).toBeCloseTo(10, 3)
    // Rounding to 32 bits leaves white noise some 150 dB below full scale.
    expect(lineDb(9) - lineDb(10)).toBeLessThan(-100)
  })

  it('loops without a seam: the step from last to first sample is like any other', () => {
    const noise = pinkNoise({ sampleRateHz: 48000, durationS: 2, seed: 2 })
    const twice = new Float32Array(2 * noise.length)
    twice.set(noise)
    twice.set(noise, noise.length)
    const once = thirdOctaveLevelsDb(noise, 48000)
    const looped = thirdOctaveLevelsDb(twice, 48000)
    once.forEach((level, i) => {
      expect(Math.abs(level - (looped[i] as number))).toBeLessThan(1e-9)
    })
  })

  it('keeps its peaks below full scale and looks like Gaussian noise: 68.3 % of samples within one rms (±1 %)', () => {
    const noise = pinkNoise({ sampleRateHz: 48000, durationS: 10, seed: 3 })
    expect(noise.every((x) => Math.abs(x) < 0.71)).toBe(true)
    const within = noise.filter((x) => Math.abs(x) < 0.1).length / noise.length
    expect(Math.abs(within - 0.683)).toBeLessThan(0.01)
  })

  it('is the same for the same seed and another for another', () => {
    const spec = { sampleRateHz: 8000, durationS: 0.2, seed: 11 }
    expect(pinkNoise(spec)).toEqual(pinkNoise(spec))
    expect(pinkNoise(spec)).not.toEqual(pinkNoise({ ...spec, seed: 12 }))
  })

  it('is refused outside its ranges', () => {
    const good = { sampleRateHz: 48000, durationS: 1, seed: 1 }
    for (const durationS of [0.09, 120.1, Number.NaN])
      expect(() => pinkNoise({ ...good, durationS })).toThrow('durationS is')
    for (const sampleRateHz of [7999, 192001, Infinity])
      expect(() => pinkNoise({ ...good, sampleRateHz })).toThrow('sampleRateHz is')
    for (const seed of [0.5, Number.NaN, Infinity]) expect(() => pinkNoise({ ...good, seed })).toThrow('seed is')
  })
})
