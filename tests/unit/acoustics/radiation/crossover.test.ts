import { describe, expect, it } from 'vitest'
import { add, magnitude } from '../../../../src/acoustics/complex.ts'
import { type CrossoverSlope, crossoverResponse } from '../../../../src/acoustics/radiation/crossover.ts'

const slope = (alignment: CrossoverSlope['alignment'], order: number): CrossoverSlope => ({
  alignment,
  order,
  frequencyHz: 1800,
})

describe('crossover slopes', () => {
  it('of Linkwitz–Riley order 4 and 8 add to an all-pass of magnitude 1', () => {
    for (const order of [4, 8]) {
      for (const frequencyHz of [20, 900, 1800, 2500, 20_000]) {
        const spec = slope('linkwitz-riley', order)
        const sum = add(
          crossoverResponse(spec, 'low-pass', frequencyHz),
          crossoverResponse(spec, 'high-pass', frequencyHz),
        )
        expect(magnitude(sum)).toBeCloseTo(1, 12)
      }
    }
  })

  it('of Linkwitz–Riley order 2 add to magnitude 1 with one of them inverted, and cancel without', () => {
    const spec = slope('linkwitz-riley', 2)
    const low = crossoverResponse(spec, 'low-pass', 1800)
    const high = crossoverResponse(spec, 'high-pass', 1800)
    expect(magnitude(add(low, high))).toBeCloseTo(0, 12)
    expect(magnitude(add(low, { re: -high.re, im: -high.im }))).toBeCloseTo(1, 12)
  })

  it('of Butterworth have |H|² = 1/(1 + x^{2N}) and lag in phase as a low-pass does', () => {
    for (const order of [1, 2, 3, 4]) {
      for (const x of [0.1, 1, 3]) {
        const low = crossoverResponse(slope('butterworth', order), 'low-pass', 1800 * x)
        const high = crossoverResponse(slope('butterworth', order), 'high-pass', 1800 * x)
        expect(magnitude(low) ** 2).toBeCloseTo(1 / (1 + x ** (2 * order)), 12)
        expect(magnitude(high) ** 2).toBeCloseTo(x ** (2 * order) / (1 + x ** (2 * order)), 12)
      }
      expect(crossoverResponse(slope('butterworth', order), 'low-pass', 180).im).toBeLessThan(0)
      expect(crossoverResponse(slope('butterworth', order), 'high-pass', 18_000).im).toBeGreaterThan(0)
    }
  })

  it('pass and stop at 0 Hz', () => {
    expect(crossoverResponse(slope('butterworth', 3), 'low-pass', 0)).toEqual({ re: 1, im: 0 })
    expect(crossoverResponse(slope('butterworth', 3), 'high-pass', 0)).toEqual({ re: 0, im: 0 })
  })

  it('refuse orders that the alignment does not have', () => {
    expect(() => crossoverResponse(slope('linkwitz-riley', 3), 'low-pass', 1)).toThrow(
      /allowed with linkwitz-riley is 2, 4, 8/,
    )
    expect(() => crossoverResponse(slope('butterworth', 5), 'low-pass', 1)).toThrow(RangeError)
    expect(() => crossoverResponse(slope('bessel' as 'butterworth', 2), 'low-pass', 1)).toThrow(/alignment is bessel/)
    expect(() => crossoverResponse(slope('butterworth', 2), 'low-pass', -1)).toThrow(/frequencyHz/)
  })
})
