import { describe, expect, test } from 'vitest'
import { faddeeva } from '../../../../src/acoustics/special/faddeeva.ts'

describe('the Faddeeva function', () => {
  test('is 1 at 0, and erfc along the upright axis', () => {
    expect(faddeeva({ re: 0, im: 0 }).re).toBeCloseTo(1, 12)
    // e erfc(1), DLMF 7.2.2.
    expect(faddeeva({ re: 0, im: 1 }).re).toBeCloseTo(0.427583576155807, 12)
  })

  test('w(−x + iy) is the conjugate of w(x + iy)', () => {
    for (const [re, im] of [
      [0.7, 0.2],
      [3, 1],
      [1, -0.4],
    ] as const) {
      const [right, left] = [faddeeva({ re, im }), faddeeva({ re: -re, im })]
      expect(left.re).toBeCloseTo(right.re, 12)
      expect(left.im).toBeCloseTo(-right.im, 12)
    }
  })

  test('goes over the real axis without a step', () => {
    const [above, below] = [faddeeva({ re: 1.3, im: 1e-13 }), faddeeva({ re: 1.3, im: -1e-13 })]
    expect(above.re).toBeCloseTo(below.re, 11)
    expect(above.im).toBeCloseTo(below.im, 11)
  })

  test('says what is out of range', () => {
    expect(() => faddeeva({ re: Number.NaN, im: 0 })).toThrow(/z.re is NaN/)
    expect(() => faddeeva({ re: 0, im: -40 })).toThrow(/exp/)
  })
})
