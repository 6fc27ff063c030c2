import { describe, expect, it } from 'vitest'
import { scaledErfc } from '../../../../src/acoustics/special/scaled-erfc.ts'

/** scipy.special.wofz(1j z), SciPy 1.17.1. */
const digits = [
  { re: 0, im: 0, value: { re: 1, im: 0 } },
  { re: 0.1, im: -0.1, value: { re: 0.8884785624756438, im: 0.09433165105728493 } },
  { re: 0.5, im: 0, value: { re: 0.6156903441929258, im: 0 } },
  { re: 1, im: -1, value: { re: 0.30474420525691254, im: 0.2082189382028316 } },
  { re: 3, im: -2, value: { re: 0.13075746966984864, im: 0.08111265047745671 } },
  { re: 20, im: -20, value: { re: 0.014113538470519283, im: 0.014095907649337071 } },
  { re: 0, im: 2, value: { re: 0.01831563888873418, im: -0.3400262170660662 } },
  { re: 1000, im: 0, value: { re: 0.0005641893014533876, im: 0 } },
]

describe('scaled complementary error function', () => {
  it('agrees with independent digits to 1e-11 of its size', () => {
    for (const { re, im, value } of digits) {
      const { re: a, im: b } = scaledErfc({ re, im })
      expect(Math.hypot(a - value.re, b - value.im) / Math.hypot(value.re, value.im)).toBeLessThan(1e-11)
    }
  })
  it('refuses the left half of the plane and what is not finite', () => {
    expect(() => scaledErfc({ re: -0.1, im: 0 })).toThrow('z.re is -0.1')
    expect(() => scaledErfc({ re: 0, im: Infinity })).toThrow('z.im is Infinity')
  })
})
