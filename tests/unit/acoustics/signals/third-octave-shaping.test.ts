import { expect, test } from 'vitest'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { thirdOctaveLevelsDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'
import { shapedToThirdOctaves } from '../../../../src/acoustics/signals/third-octave-shaping.ts'

const sampleRateHz = 48000
const noise = pinkNoise({ sampleRateHz, durationS: 2, seed: 3 })

test('noise takes on levels that zigzag by 6 dB from band to band', () => {
  const wanted = thirdOctaveBands(100, 10000).map(({ nominalHz }, i) => ({ nominalHz, levelDb: i % 2 === 0 ? 60 : 54 }))
  const shaped = Float32Array.from(shapedToThirdOctaves(noise, sampleRateHz, wanted))
  const levelsDb = thirdOctaveLevelsDb(shaped, sampleRateHz, thirdOctaveBands(100, 10000))
  const offsetDb = (levelsDb[0] ?? 0) - 60
  // 0.1 dB: what the docstring promises.
  for (const [i, levelDb] of levelsDb.entries())
    expect(Math.abs(levelDb - offsetDb - (wanted[i]?.levelDb ?? 0))).toBeLessThan(0.1)
})

test('a signal that already has the wanted levels comes back as it was in those bands', () => {
  const wanted = thirdOctaveBands(100, 10000).map(({ nominalHz }) => ({ nominalHz, levelDb: 0 }))
  const before = thirdOctaveLevelsDb(noise, sampleRateHz, thirdOctaveBands(125, 8000))
  const shaped = Float32Array.from(shapedToThirdOctaves(noise, sampleRateHz, wanted))
  const after = thirdOctaveLevelsDb(shaped, sampleRateHz, thirdOctaveBands(125, 8000))
  // 0.1 dB: the noise itself is flat within that.
  for (const [i, levelDb] of after.entries()) expect(Math.abs(levelDb - (before[i] ?? 0))).toBeLessThan(0.1)
})

test('bands with a gap, above half the sample rate or without power are refused', () => {
  const levels = (...nominalHz: number[]) => nominalHz.map((each) => ({ nominalHz: each, levelDb: 0 }))
  expect(() => shapedToThirdOctaves(noise, sampleRateHz, levels(100, 160))).toThrow(/^wanted\.length is 2/)
  expect(() => shapedToThirdOctaves(noise, sampleRateHz, [])).toThrow(RangeError)
  expect(() => shapedToThirdOctaves(noise, 20000, levels(10000))).toThrow(RangeError)
  expect(() => shapedToThirdOctaves(new Float32Array(4800), sampleRateHz, levels(1000))).toThrow(/^power of samples/)
})
