import { describe, expect, test } from 'vitest'
import { polarArcPath, polarPath, polarPlace, polarRadiusPx } from '../../../src/charts/polar-place.ts'

const scale = { radiusPx: 180, floorDb: -30, ceilingDb: 6 }

describe('a polar drawing', () => {
  test('has its floor in the middle, its ceiling at the rim, and even decibels between', () => {
    expect(polarRadiusPx(-30, scale)).toBe(0)
    expect(polarRadiusPx(6, scale)).toBe(180)
    expect(polarRadiusPx(0, scale) - polarRadiusPx(-6, scale)).toBeCloseTo(30, 12)
  })
  test('keeps levels beyond its scale on the ends, a null too', () => {
    expect(polarRadiusPx(-80, scale)).toBe(0)
    expect(polarRadiusPx(Number.NEGATIVE_INFINITY, scale)).toBe(0)
    expect(polarRadiusPx(20, scale)).toBe(180)
  })
  test('points up straight ahead and to the right for positive angles', () => {
    expect(polarPlace(0, 10).top).toBe(-10)
    expect(polarPlace(90, 10).left).toBeCloseTo(10, 12)
    expect(polarPlace(-90, 10).left).toBeCloseTo(-10, 12)
    expect(polarPlace(180, 10).top).toBeCloseTo(10, 12)
  })
  test('draws rings as half circles or whole ones', () => {
    expect(polarArcPath(50, 90).match(/A/g)).toHaveLength(1)
    expect(polarArcPath(50, 180).match(/A/g)).toHaveLength(2)
  })
  test('draws a pattern in its order, and nothing for none', () => {
    const path = polarPath(
      [
        { angleDeg: -90, levelDb: 0 },
        { angleDeg: 0, levelDb: 6 },
      ],
      scale,
    )
    expect(path).toMatch(/^M-150\.00,-?0\.00L0\.00,-180\.00$/)
    expect(polarPath([], scale)).toBe('')
  })
})
