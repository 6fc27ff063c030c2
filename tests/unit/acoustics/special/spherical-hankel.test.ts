import { describe, expect, it } from 'vitest'
import {
  sphericalHankelLogDerivatives,
  sphericalHankelRatios,
} from '../../../../src/acoustics/special/spherical-hankel.ts'
import digits from '../../../evidence/reference/radiation-digits.json' with { type: 'json' }

describe('spherical Hankel functions of the second kind', () => {
  it('have the ratios and slopes of 60-digit arithmetic', () => {
    for (const { n, x, value } of digits.hankelRatios) {
      const row = sphericalHankelRatios(x, n)
      const size = Math.hypot(Number(value[0]), Number(value[1]))
      const error = Math.hypot((row.re[n] as number) - Number(value[0]), (row.im[n] as number) - Number(value[1]))
      expect(error / size, `n = ${n}, x = ${x}`).toBeLessThan(1e-12)
    }
    for (const { n, x, value } of digits.hankelLogDerivatives) {
      const row = sphericalHankelLogDerivatives(sphericalHankelRatios(x, n), x)
      const size = Math.hypot(Number(value[0]), Number(value[1]))
      const error = Math.hypot((row.re[n] as number) - Number(value[0]), (row.im[n] as number) - Number(value[1]))
      expect(error / size, `n = ${n}, x = ${x}`).toBeLessThan(1e-12)
    }
  })

  it('keep the Wronskian in the imaginary part of the ratio: Im ρ_n x² |h_{n−1}|² = 1', () => {
    for (const x of [0.01, 1, 30, 999]) {
      const row = sphericalHankelRatios(x, 20)
      let squared = 1 / (x * x)
      for (let n = 1; n <= 20; n++) {
        expect((row.im[n] as number) * x * x * squared).toBeCloseTo(1, 11)
        squared *= (row.re[n] as number) ** 2 + (row.im[n] as number) ** 2
      }
    }
  })

  it('stay finite where the functions themselves overflow', () => {
    const row = sphericalHankelRatios(1e-6, 1500)
    for (const value of [...row.re, ...row.im]) expect(Number.isFinite(value)).toBe(true)
  })

  it('refuse an argument of 0 and a broken order', () => {
    expect(() => sphericalHankelRatios(0, 3)).toThrow(/x is 0; allowed is/)
    expect(() => sphericalHankelRatios(1, 2.5)).toThrow(/maxOrder is 2.5/)
    expect(() => sphericalHankelLogDerivatives(sphericalHankelRatios(1, 2), Number.NaN)).toThrow(RangeError)
  })
})
