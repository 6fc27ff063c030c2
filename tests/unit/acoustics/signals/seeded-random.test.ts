import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

describe('seeded random numbers', () => {
  it('repeat for the same seed and differ for the next', () => {
    const draw = (seed: number): number[] => Array.from({ length: 5 }, seededRandom(seed))
    expect(draw(42)).toEqual(draw(42))
    expect(draw(42)).not.toEqual(draw(43))
  })

  it('are uniform from 0 to 1: mean ½ and variance 1/12 within five standard errors of 100 000 draws', () => {
    const random = seededRandom(7)
    const draws = Array.from({ length: 100000 }, random)
    const mean = draws.reduce((sum, x) => sum + x, 0) / draws.length
    const variance = draws.reduce((sum, x) => sum + (x - mean) ** 2, 0) / draws.length
    expect(Math.abs(mean - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / draws.length))
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(5 * Math.sqrt(1 / 180 / draws.length))
    expect(Math.min(...draws.slice(0, 1000))).toBeGreaterThanOrEqual(0)
    expect(draws.every((x) => x < 1)).toBe(true)
  })
})
