import { describe, expect, it } from 'vitest'
import { evidenceNumber, smallNumber } from '../../../../src/pages/evidence/_number-text.ts'

describe('numbers on the evidence page', () => {
  it('show one decimal more than the tolerance can tell apart', () => {
    expect(evidenceNumber(-39.4289, 0.05)).toBe('−39.429')
    expect(evidenceNumber(343.21, 0.1)).toBe('343.21')
    expect(evidenceNumber(1234.5678, 2)).toBe('1234.6')
  })
  it('show six significant digits for an exact relation', () => {
    expect(evidenceNumber(Math.PI, 0)).toBe('3.14159')
    expect(evidenceNumber(0, 0)).toBe('0')
  })
  it('use powers of ten far from one', () => {
    expect(evidenceNumber(-1.234e-7, 1e-9)).toBe('−1.234 × 10⁻⁷')
    expect(evidenceNumber(2.5e9, 1e7)).toBe('2.5 × 10⁹')
  })
  it('round errors and tolerances to two digits', () => {
    expect(smallNumber(0.012345)).toBe('0.012')
    expect(smallNumber(-0.5)).toBe('−0.5')
    expect(smallNumber(3.21e-15)).toBe('3.2 × 10⁻¹⁵')
    expect(smallNumber(0)).toBe('0')
  })
})
