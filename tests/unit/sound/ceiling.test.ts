import { expect, test } from 'vitest'
import { ceilingCurve, ceilingDriveGain, ceilingLevel } from '../../../src/sound/ceiling.ts'

const exactCeiling = 10 ** (-1 / 20)

/**
 * Drive gain and shaper in single precision.
 * Source: Web Audio API, WaveShaperNode, the attribute `curve`: v = (N − 1)/2 · (x + 1), k = ⌊v⌋, f = v − k; c₀ for v < 0,
 * c_{N−1} for v ≥ N − 1, otherwise (1 − f) c_k + f c_{k+1}.
 */
function throughCeiling(sample: number): number {
  const curve = ceilingCurve()
  const driven = Math.fround(Math.fround(sample) * Math.fround(ceilingDriveGain))
  const last = curve.length - 1
  const v = (last / 2) * (driven + 1)
  if (v < 0) return curve[0] ?? Number.NaN
  if (v >= last) return curve[last] ?? Number.NaN
  const k = Math.floor(v)
  const f = v - k
  return Math.fround((1 - f) * (curve[k] ?? Number.NaN) + f * (curve[k + 1] ?? Number.NaN))
}

test('the ceiling is the largest single-precision number not above −1 dBFS', () => {
  expect(ceilingLevel).toBe(Math.fround(ceilingLevel))
  expect(ceilingLevel).toBeLessThanOrEqual(exactCeiling)
  // 2⁻²⁴ is the spacing of single-precision numbers between 0.5 and 1.
  expect(ceilingLevel + 2 ** -24).toBeGreaterThan(exactCeiling)
})

test('below the ceiling every sample comes out as it went in, within single-precision rounding', () => {
  for (let step = -1000; step <= 1000; step++) {
    const sample = (step / 1000) * ceilingLevel
    // Two roundings of half a unit in the last place each, at most 2⁻²⁴ of a value up to 1.1.
    expect(Math.abs(throughCeiling(sample) - sample)).toBeLessThanOrEqual(2 ** -23)
  }
  expect(throughCeiling(0)).toBe(0)
})

test('at and above the ceiling the output is flat, and no output is above −1 dBFS', () => {
  for (const sample of [ceilingLevel, 0.9, 0.95, 1, 2, 16, 1e6, Number.MAX_VALUE]) {
    for (const sign of [1, -1]) {
      expect(Math.abs(throughCeiling(sign * sample))).toBeLessThanOrEqual(exactCeiling)
      expect(throughCeiling(sign * sample)).toBeCloseTo(sign * exactCeiling, 6)
    }
  }
})

test('silence stays silence, so that the shaper adds no constant pressure', () => {
  const curve = ceilingCurve()
  expect(curve[(curve.length - 1) / 2]).toBe(0)
})
