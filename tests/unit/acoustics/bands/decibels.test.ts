import { describe, expect, it } from 'vitest'
import {
  amplitudeLevelDb,
  amplitudeRatio,
  energyAverageDb,
  energySumDb,
  levelDb,
} from '../../../../src/acoustics/bands/decibels.ts'

describe('decibels', () => {
  it('are 3.0103 dB for twice the power and 6.0206 dB for twice the amplitude', () => {
    expect(levelDb(2)).toBeCloseTo(3.0103, 4)
    expect(amplitudeLevelDb(2)).toBeCloseTo(6.0206, 4)
    expect(levelDb(1)).toBe(0)
    expect(levelDb(0)).toBe(-Infinity)
    expect(amplitudeLevelDb(0)).toBe(-Infinity)
  })

  it('turn back into the ratio they came from', () => {
    for (const ratio of [0, 1e-12, 0.5, 1, 7, 1e9]) {
      expect(10 ** (levelDb(ratio) / 10)).toBeCloseTo(ratio, 5)
      expect(amplitudeRatio(amplitudeLevelDb(ratio))).toBeCloseTo(ratio, 5)
    }
  })

  it('add as energies: ten equal parts are 10 dB more than one, and silence adds nothing', () => {
    expect(energySumDb(Array(10).fill(60))).toBeCloseTo(70, 12)
    expect(energySumDb([60, -Infinity])).toBeCloseTo(60, 12)
    expect(energySumDb([60, 50])).toBeCloseTo(60.41393, 5)
    expect(energySumDb([])).toBe(-Infinity)
    expect(energySumDb(new Float64Array([-Infinity, -Infinity]))).toBe(-Infinity)
  })

  it('add without underflow or overflow at extreme levels', () => {
    expect(energySumDb([-4000, -4000])).toBeCloseTo(-4000 + 3.0103, 4)
    expect(energySumDb([3000, 3000])).toBeCloseTo(3003.0103, 4)
  })

  it('average as energies: equal levels keep their level', () => {
    expect(energyAverageDb([72, 72, 72])).toBeCloseTo(72, 12)
    expect(energyAverageDb([72, -Infinity])).toBeCloseTo(72 - 3.0103, 4)
    expect(energyAverageDb([-Infinity])).toBe(-Infinity)
  })

  it('are refused for negative and non-finite ratios, NaN levels and an empty average', () => {
    for (const ratio of [-1, Number.NaN, Infinity]) {
      expect(() => levelDb(ratio)).toThrow(`powerRatio is ${ratio}`)
      expect(() => amplitudeLevelDb(ratio)).toThrow(`amplitudeRatio is ${ratio}`)
    }
    expect(() => energySumDb([60, Number.NaN])).toThrow('levelsDb[1] is NaN')
    expect(() => amplitudeRatio(Infinity)).toThrow(RangeError)
    expect(() => energyAverageDb([])).toThrow(RangeError)
  })
})
