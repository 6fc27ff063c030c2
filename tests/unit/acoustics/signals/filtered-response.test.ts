import { describe, expect, test } from 'vitest'
import { type Complex, fromPolar, multiply } from '../../../../src/acoustics/complex.ts'
import { crossoverResponse } from '../../../../src/acoustics/radiation/crossover.ts'
import { filteredResponse } from '../../../../src/acoustics/signals/filtered-response.ts'
import { impulseResponse } from '../../../../src/acoustics/signals/impulse-response.ts'

const sampleRateHz = 48000
const lowPass = (frequencyHz: number): Complex =>
  crossoverResponse({ alignment: 'linkwitz-riley', order: 8, frequencyHz: 160 }, 'low-pass', frequencyHz)
const late = (frequencyHz: number): Complex => fromPolar(0.5, -2 * Math.PI * frequencyHz * 0.004)

describe('a response behind a filter', () => {
  test.each([2048, 2047])('is the response of both in one, %i samples', (length) => {
    const spec = { sampleRateHz, length }
    const filtered = filteredResponse(impulseResponse(late, spec), lowPass, sampleRateHz)
    const direct = impulseResponse((frequencyHz) => multiply(late(frequencyHz), lowPass(frequencyHz)), spec)
    expect(filtered).toHaveLength(length)
    // Single precision of the response, 6e-8 of a peak of 0.5.
    for (const [n, sample] of direct.entries())
      expect(Math.abs((filtered[n] ?? Number.NaN) - sample)).toBeLessThan(1e-7)
  })
  test('a delay of whole samples moves it round', () => {
    const delay = (frequencyHz: number) => fromPolar(1, (-2 * Math.PI * frequencyHz * 3) / sampleRateHz)
    const moved = filteredResponse([1, 2, 3, 4, 5, 6, 7], delay, sampleRateHz)
    for (const [n, expected] of [5, 6, 7, 1, 2, 3, 4].entries()) expect(moved[n]).toBeCloseTo(expected, 5)
  })
  test('what is out of range is named', () => {
    expect(() => filteredResponse([1], lowPass, sampleRateHz)).toThrow(/^response.length is 1/)
    expect(() => filteredResponse([1, Number.NaN], lowPass, sampleRateHz)).toThrow(/^response\[1\] is NaN/)
    expect(() => filteredResponse([1, 0], lowPass, 0)).toThrow(/^sampleRateHz is 0/)
    expect(() => filteredResponse([1, 0], () => ({ re: Number.NaN, im: 0 }), sampleRateHz)).toThrow(/^filter\(0 Hz\)/)
  })
})
