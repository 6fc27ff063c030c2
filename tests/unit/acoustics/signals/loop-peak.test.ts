import { expect, test } from 'vitest'
import { createLoopPeak } from '../../../../src/acoustics/signals/loop-peak.ts'
import { pinkNoise } from '../../../../src/acoustics/signals/pink-noise.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

/** The convolution round the loop, sample by sample as it is defined. */
const directPeak = (loop: Float32Array, response: Float32Array): number => {
  let peak = 0
  for (let n = 0; n < loop.length; n++) {
    let sum = 0
    for (let m = 0; m < response.length; m++) {
      const from = (((n - m) % loop.length) + loop.length) % loop.length
      sum += (response[m] ?? 0) * (loop[from] ?? 0)
    }
    peak = Math.max(peak, Math.abs(sum))
  }
  return peak
}

const randomSamples = (length: number, seed: number): Float32Array => {
  const random = seededRandom(seed)
  return Float32Array.from({ length }, () => 2 * random() - 1)
}

test('the peak is that of the convolution round the loop, for responses shorter and longer than a step and than the loop', () => {
  for (const [period, length] of [
    [40_001, 1],
    [20_000, 300],
    [700, 20_000],
    [17_000, 1_000],
  ] as const) {
    const loop = randomSamples(period, period)
    const response = randomSamples(length, length + 1)
    const peak = createLoopPeak(loop)(response)
    const direct = directPeak(loop, response)
    // 1e-11 of the peak: a relative error of 1e-14 in each transform, and sums of some thousand products.
    expect(Math.abs(peak / direct - 1), `${period} through ${length}`).toBeLessThan(1e-11)
  }
})

test('a late tap beyond the loop wraps round it, and a loop that is asked twice answers the same', () => {
  const loop = pinkNoise({ sampleRateHz: 8000, durationS: 2, seed: 3 })
  const peakOf = createLoopPeak(loop)
  const own = loop.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)
  const late = new Float32Array(50_000)
  late[49_999] = -0.5
  expect(peakOf([1])).toBeCloseTo(own, 12)
  expect(peakOf(late)).toBeCloseTo(own / 2, 12)
  expect(peakOf([1])).toBeCloseTo(own, 12)
})

test('what is empty or not finite is refused by name', () => {
  expect(() => createLoopPeak([])).toThrow(/^loop.length is 0/)
  expect(() => createLoopPeak([0, Number.NaN])).toThrow(/^loop\[1\] is NaN/)
  expect(() => createLoopPeak([1])([])).toThrow(/^response.length is 0/)
  expect(() => createLoopPeak([1])([Number.POSITIVE_INFINITY])).toThrow(/^response\[0\] is Infinity/)
})
