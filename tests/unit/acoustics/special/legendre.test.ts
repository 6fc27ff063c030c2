import { describe, expect, it } from 'vitest'
import { legendrePolynomials } from '../../../../src/acoustics/special/legendre.ts'

describe('Legendre polynomials', () => {
  it('are 1, x, (3x² − 1)/2 and (5x³ − 3x)/2', () => {
    const x = 0.37
    const p = legendrePolynomials(3, x)
    expect([...p]).toEqual([
      1,
      x,
      expect.closeTo((3 * x * x - 1) / 2, 15),
      expect.closeTo((5 * x ** 3 - 3 * x) / 2, 15),
    ])
  })

  it('are 1 at 1 and alternate at −1, up to order 1000', () => {
    for (const value of legendrePolynomials(1000, 1)) expect(value).toBeCloseTo(1, 12)
    legendrePolynomials(1000, -1).forEach((value, n) => {
      expect(value).toBeCloseTo(n % 2 === 0 ? 1 : -1, 12)
    })
  })

  it('refuse arguments outside −1 … 1 and negative orders', () => {
    expect(() => legendrePolynomials(3, 1.001)).toThrow(/x is 1.001; allowed is a finite number from -1 to 1/)
    expect(() => legendrePolynomials(-1, 0)).toThrow(RangeError)
  })
})
