import { describe, expect, test } from 'vitest'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import {
  meterLevelsDb,
  microphoneOffsetDb,
  practiceMicrophone,
  recordedThrough,
} from '../../../../src/acoustics/measuring/practice-recording.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { thirdOctaveLevelsDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'
import { convolved, whiteNoise } from './by-hand.ts'

const sampleRateHz = 48000
const bands = thirdOctaveBands(50, 12500)

describe('a microphone that is off', () => {
  const offsets = [
    { frequencyHz: 100, offsetDb: 2 },
    { frequencyHz: 1000, offsetDb: 0 },
    { frequencyHz: 10000, offsetDb: -4 },
  ]

  test('is off by what it is given, straight over log frequency and level beyond the ends', () => {
    const at = (frequencyHz: number) => microphoneOffsetDb(offsets, frequencyHz)
    expect([at(20), at(100), at(1000), at(10000), at(20000)]).toEqual([2, 2, 0, -4, -4])
    expect(at(Math.sqrt(1e5))).toBeCloseTo(1, 9)
    expect(at(Math.sqrt(1e7))).toBeCloseTo(-2, 9)
    expect(() => microphoneOffsetDb([], 100)).toThrow(/offsets.length is 0/)
    expect(() => microphoneOffsetDb(offsets, 0)).toThrow(/frequencyHz is 0/)
  })

  test('raises and lowers the bands of a recording by just that', () => {
    const noise = pinkNoise({ sampleRateHz, durationS: 2 ** 18 / sampleRateHz, seed: 1 })
    const recorded = recordedThrough(noise, [1], offsets, sampleRateHz)
    const [is, was] = [recorded, noise].map((samples) => thirdOctaveLevelsDb(samples, sampleRateHz, bands))
    for (const [i, { centreHz }] of bands.entries()) {
      const offDb = (is?.[i] as number) - (was?.[i] as number) - microphoneOffsetDb(offsets, centreHz)
      // At the last two bands the line has a kink within the band.
      expect(Math.abs(offDb)).toBeLessThan(0.1)
    }
  })

  test('differs from seed to seed, and is the same for one', () => {
    expect(practiceMicrophone(4)).toEqual(practiceMicrophone(4))
    expect(practiceMicrophone(4)).not.toEqual(practiceMicrophone(5))
    for (let seed = 0; seed < 50; seed++) {
      for (const { offsetDb } of practiceMicrophone(seed)) expect(Math.abs(offsetDb)).toBeLessThanOrEqual(2)
    }
  })
})

describe('a recording through a response', () => {
  test('is the convolution with it: round for one period, with silence behind for any other length', () => {
    const response = [0, 0.5, 0, -0.25]
    const period = whiteNoise(256, 0.1, 1)
    const round = recordedThrough(period, response, null, sampleRateHz)
    const whole = convolved(period, response)
    for (let n = 0; n < 256; n++) expect(round[n]).toBeCloseTo((whole[n] as number) + (whole[n + 256] ?? 0), 6)
    const other = recordedThrough(period.slice(0, 200), response, null, sampleRateHz)
    for (let n = 0; n < 200; n++) expect(other[n]).toBeCloseTo(whole[n] as number, 6)
    expect(other).toHaveLength(200)
  })
})

describe('a slow meter', () => {
  const length = 2 ** 16
  const noise = Float32Array.from(whiteNoise(length, 0.1, 3))
  const wanted = thirdOctaveLevelsDb(noise, sampleRateHz, bands)

  test('that has shown a sound all along shows its level', () => {
    const shown = meterLevelsDb(noise, sampleRateHz, bands, undefined, 20)
    for (const [i, level] of shown.entries()) expect(Math.abs(level - (wanted[i] as number))).toBeLessThan(0.5)
  })

  test('still shows what was there before: 60 dB more have not gone after 1.4 s', () => {
    const shown = meterLevelsDb(
      noise,
      sampleRateHz,
      bands,
      wanted.map((level) => level + 60),
    )
    const left = 60 - 10 * Math.log10(Math.exp(length / sampleRateHz))
    for (const [i, level] of shown.entries()) expect(level - (wanted[i] as number)).toBeCloseTo(left, 0)
  })

  test('does not fill faint bands from the ends of a recording that is cut out', () => {
    const tone = Float32Array.from({ length }, (_, n) => Math.sin((2 * Math.PI * 100.3 * n) / sampleRateHz))
    const [treble] = meterLevelsDb(tone, sampleRateHz, thirdOctaveBands(8000, 8000))
    expect(treble).toBeLessThan(-70)
  })
})
