import { expect, test } from 'vitest'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { aWeightingDb } from '../../../../src/acoustics/hearing/frequency-weighting.ts'
import { inverseRealDft, realDft } from '../../../../src/acoustics/signals/dft.ts'
import { levelsThroughResponse, loopWeights } from '../../../../src/acoustics/signals/loop-levels.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { thirdOctaveLevelsDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'

const sampleRateHz = 48000
const bands = thirdOctaveBands(25, 12500)
const loop = pinkNoise({ sampleRateHz, durationS: 4, seed: 9 })
const weights = loopWeights(loop, sampleRateHz, bands, 32768)

/** The loop itself led round through a response. */
function filtered(response: Float32Array): Float32Array {
  const padded = new Float64Array(loop.length)
  padded.set(response)
  const [x, h] = [realDft(loop), realDft(padded)]
  const re = x.re.map((value, k) => value * (h.re[k] ?? 0) - (x.im[k] ?? 0) * (h.im[k] ?? 0))
  const im = x.re.map((value, k) => value * (h.im[k] ?? 0) + (x.im[k] ?? 0) * (h.re[k] ?? 0))
  return Float32Array.from(inverseRealDft({ re, im }, loop.length))
}

test('through a unit impulse the loop has its own third-octave levels', () => {
  const own = thirdOctaveLevelsDb(loop, sampleRateHz, bands)
  const { bandLevelsDb } = levelsThroughResponse(weights, [1])
  // 1e-6 dB: the single precision of the samples is in both; what is cut off the filters' skirts is below −110 dB.
  for (const [i, levelDb] of bandLevelsDb.entries()) expect(Math.abs(levelDb - (own[i] ?? 0))).toBeLessThan(1e-6)
})

test('two arrivals 25 ms apart give the levels of the filtered loop', () => {
  const response = new Float32Array(8192)
  response[300] = 1
  response[1500] = -0.8
  const expected = thirdOctaveLevelsDb(filtered(response), sampleRateHz, bands)
  const { bandLevelsDb } = levelsThroughResponse(weights, response)
  // 0.01 dB: what the docstring promises for a grid of four lengths.
  for (const [i, levelDb] of bandLevelsDb.entries()) expect(Math.abs(levelDb - (expected[i] ?? 0))).toBeLessThan(0.01)
})

test('a loop of one tone has the A-weighted level of that tone', () => {
  // 40 Hz fits the second exactly: amplitude 1, mean square 1/2.
  const tone = Float32Array.from({ length: sampleRateHz }, (_, n) => Math.sin((2 * Math.PI * 40 * n) / sampleRateHz))
  const { aWeightedDb } = levelsThroughResponse(loopWeights(tone, sampleRateHz, bands, 4096), [0.5])
  expect(aWeightedDb).toBeCloseTo(10 * Math.log10(0.5 * 0.25) + aWeightingDb(40), 4)
})

test('silence is −Infinity, and a response that is too long, empty or broken is refused', () => {
  const { bandLevelsDb, aWeightedDb } = levelsThroughResponse(weights, new Float32Array(100))
  expect(aWeightedDb).toBe(Number.NEGATIVE_INFINITY)
  expect(bandLevelsDb.every((levelDb) => levelDb === Number.NEGATIVE_INFINITY)).toBe(true)
  expect(() => levelsThroughResponse(weights, new Float32Array(16385))).toThrow(/^response\.length is 16385/)
  expect(() => levelsThroughResponse(weights, [])).toThrow(RangeError)
  expect(() => levelsThroughResponse(weights, [1, Number.NaN])).toThrow(/^response\[1\] is NaN/)
  expect(() => loopWeights([1], sampleRateHz, bands, 1024)).toThrow(RangeError)
  expect(() => loopWeights([1, Number.NaN], sampleRateHz, bands, 1024)).toThrow(RangeError)
})
