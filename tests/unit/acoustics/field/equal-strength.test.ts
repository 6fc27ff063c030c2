import { describe, expect, it } from 'vitest'
import { equalStrengthM } from '../../../../src/acoustics/index.ts'

describe('the distance at which direct sound and the hall are equally strong', () => {
  it('is the closed form where the hall is the same everywhere', () => {
    const strengths = (distanceM: number) => ({ direct: 9 / distanceM ** 2, hall: 0.25 })
    expect(equalStrengthM(strengths, 1, 100)).toBeCloseTo(6, 6)
  })
  it('is found where reflections grow weaker with the distance', () => {
    const strengths = (distanceM: number) => ({ direct: 9 / distanceM ** 2, hall: 0.1 + 1 / distanceM })
    // 0.1 r² + r − 9 = 0
    expect(Math.abs(equalStrengthM(strengths, 0.5, 100) / 5.7238 - 1)).toBeLessThan(0.01)
  })
  it('ends at the wall, and is 0 where nobody can be so near', () => {
    expect(equalStrengthM(() => ({ direct: 1, hall: 0 }), 1, 7)).toBe(7)
    const walled = (distanceM: number) => (distanceM < 0.5 ? null : { direct: 1e-3 / distanceM ** 2, hall: 1 })
    expect(equalStrengthM(walled, 2, 7)).toBe(0)
  })
  it('refuses distances out of range', () => {
    expect(() => equalStrengthM(() => null, 0, 7)).toThrow('startM is 0')
    expect(() => equalStrengthM(() => null, 8, 7)).toThrow('startM is 8')
    expect(() => equalStrengthM(() => null, 1, Number.NaN)).toThrow('mostM is NaN')
  })
})
