import { describe, expect, test } from 'vitest'
import { withDrift } from '../../../../src/acoustics/measuring/drift.ts'
import { certain, halfIntervalDb } from '../../../../src/acoustics/measuring/estimate.ts'

describe('a reference that has drifted', () => {
  test('leaves the level and adds the rectangular distribution to the error', () => {
    const estimate = { levelDb: -3, errorDb: 0.4, freedom: 12 }
    const wider = withDrift(estimate, -1.5)
    expect(wider.levelDb).toBe(-3)
    // GUM 4.3.7: a/√3 with a = 1.5 dB, by hand 0.8660.
    expect(wider.errorDb).toBeCloseTo(Math.hypot(0.4, 0.866), 4)
    expect(wider.freedom).toBeGreaterThan(12)
    expect(withDrift(estimate, 1.5)).toEqual(wider)
  })

  test('that did not drift changes nothing', () => {
    const estimate = { levelDb: 1, errorDb: 0.2, freedom: 9 }
    const same = withDrift(estimate, 0)
    expect(same.errorDb).toBeCloseTo(0.2, 12)
    expect(same.freedom).toBeCloseTo(9, 9)
  })

  test('an interval without an error of its own then holds every reference in between', () => {
    const half = halfIntervalDb(withDrift({ levelDb: 0, errorDb: 0, freedom: certain }, 2))
    expect(half).toBeGreaterThanOrEqual(2)
    expect(half).toBeLessThan(2.3)
  })
})
