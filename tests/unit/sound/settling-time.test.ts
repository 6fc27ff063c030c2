import { expect, test } from 'vitest'
import { settlingTimeS } from '../../../src/sound/settling-time.ts'

const sampleRateHz = 48000

test('a single tap has settled once it has passed', () => {
  const response = new Float32Array(4800)
  response[480] = 0.7
  expect(settlingTimeS(response, sampleRateHz)).toBeCloseTo(481 / sampleRateHz, 12)
})

test('an exponential decay has settled when 10⁻⁴ of its energy is left', () => {
  // The energy left after n samples of e^{−n/τ} is e^{−2n/τ}; it reaches 10⁻⁴ at n = τ ln(100).
  const decaySamples = 300
  const response = Float32Array.from({ length: 9600 }, (_, index) => Math.exp(-index / decaySamples))
  const expectedS = (decaySamples * Math.log(100)) / sampleRateHz
  // One sample: the threshold falls between two.
  expect(Math.abs(settlingTimeS(response, sampleRateHz) - expectedS)).toBeLessThanOrEqual(1 / sampleRateHz)
})

test('silence has settled at once, and no response is waited for longer than 250 ms', () => {
  expect(settlingTimeS(new Float32Array(100), sampleRateHz)).toBe(0)
  const late = new Float32Array(sampleRateHz)
  late[sampleRateHz - 1] = 1
  expect(settlingTimeS(late, sampleRateHz)).toBe(0.25)
})

test('an empty or broken response and a sample rate of zero are refused', () => {
  expect(() => settlingTimeS(new Float32Array(0), sampleRateHz)).toThrow(RangeError)
  expect(() => settlingTimeS(new Float32Array([1, Number.NaN]), sampleRateHz)).toThrow(/^response\[1\] is NaN/)
  expect(() => settlingTimeS(new Float32Array([1]), 0)).toThrow(RangeError)
})
