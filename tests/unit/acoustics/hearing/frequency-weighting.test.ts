import { describe, expect, it } from 'vitest'
import { aWeightingDb, cWeightingDb, weightingPolesHz } from '../../../../src/acoustics/hearing/frequency-weighting.ts'

describe('frequency weighting', () => {
  it('is exactly 0 dB at 1 kHz', () => {
    expect(aWeightingDb(1000)).toBe(0)
    expect(cWeightingDb(1000)).toBe(0)
  })

  it('C is 3.0103 dB down at both of its design corners, 10^1.5 and 10^3.9 Hz', () => {
    for (const cornerHz of [10 ** 1.5, 10 ** 3.9]) expect(cWeightingDb(cornerHz)).toBeCloseTo(-10 * Math.log10(2), 9)
  })

  it('A and C differ by the two coupled poles alone: their product is the square of 10^2.45 Hz', () => {
    expect(Math.sqrt(weightingPolesHz.f2 * weightingPolesHz.f3)).toBeCloseTo(10 ** 2.45, 9)
    const highPassDb = (f: number): number =>
      -10 * Math.log10((1 + (weightingPolesHz.f2 / f) ** 2) * (1 + (weightingPolesHz.f3 / f) ** 2))
    for (const f of [20, 100, 500, 5000]) {
      expect(aWeightingDb(f) - cWeightingDb(f)).toBeCloseTo(highPassDb(f) - highPassDb(1000), 9)
    }
  })

  it('falls in the deep bass by 80 dB (A) and 40 dB (C) a decade, and in the far treble by 40 dB', () => {
    expect(aWeightingDb(0.01) - aWeightingDb(0.001)).toBeCloseTo(80, 3)
    expect(cWeightingDb(0.01) - cWeightingDb(0.001)).toBeCloseTo(40, 3)
    // 1 MHz is two decades above the pole at 12.2 kHz: (12.2/100)² is still 1.5 %, 0.13 dB, from the asymptote.
    expect(Math.abs(aWeightingDb(1e5) - aWeightingDb(1e6) - 40)).toBeLessThan(0.15)
  })

  it('is finite at the ends of its range and refused outside', () => {
    for (const weighting of [aWeightingDb, cWeightingDb]) {
      for (const frequencyHz of [1e-12, 1e6]) expect(Number.isFinite(weighting(frequencyHz))).toBe(true)
      for (const frequencyHz of [0, -20, 1e6 + 1, Number.NaN, Infinity]) {
        expect(() => weighting(frequencyHz)).toThrow(RangeError)
        expect(() => weighting(frequencyHz)).toThrow(
          `frequencyHz is ${frequencyHz}; allowed is a finite number above 0 to 1000000 Hz`,
        )
      }
    }
  })
})
