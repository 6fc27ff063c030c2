import { describe, expect, it } from 'vitest'
import {
  randomIncidenceAbsorption,
  reflectionAt,
  wallReflection,
} from '../../../../src/acoustics/field/wall-admittance.ts'
import { plainAdmittance } from './plain-wall.ts'

/** What a wall takes of sound from all sides: ∫ (1 − R²) 2 cos ϑ d cos ϑ, with cos ϑ = s². */
function takes(wall: { admittance: number; even: number }): number {
  const steps = 4000
  let sum = 0
  for (let i = 0; i < steps; i++) {
    const s = (i + 0.5) / steps
    sum += (1 - reflectionAt(wall, s * s) ** 2) * 4 * s ** 3
  }
  return sum / steps
}

describe('a wall from what it takes of sound from all sides', () => {
  it('takes that share, from hard to open', () => {
    for (const alpha of [0, 0.01, 0.1, 0.5, 0.9, 0.95, 0.96, 0.99, 1])
      expect(takes(wallReflection('α', alpha))).toBeCloseTo(alpha, 5)
  })
  it('has the admittance that bisection over the angles finds', () => {
    for (const alpha of [0.02, 0.3, 0.8]) {
      expect(wallReflection('α', alpha).admittance).toBeCloseTo(plainAdmittance(alpha), 5)
      expect(randomIncidenceAbsorption(plainAdmittance(alpha))).toBeCloseTo(alpha, 5)
    }
  })
  it('throws nearly all back at right angles, nothing at one angle, and turns the sign along the wall', () => {
    const wall = wallReflection('α', 0.2)
    expect(reflectionAt(wall, 1)).toBeGreaterThan(0.9)
    expect(reflectionAt(wall, wall.admittance)).toBeCloseTo(0, 12)
    expect(reflectionAt(wall, 0)).toBe(-1)
    expect(reflectionAt(wallReflection('α', 0), 0)).toBe(1)
  })
  it('refuses shares that there are not', () => {
    expect(() => wallReflection('absorption of floor', 1.1)).toThrow('absorption of floor is 1.1')
    expect(() => wallReflection('α', Number.NaN)).toThrow('α')
    expect(() => randomIncidenceAbsorption(-0.1)).toThrow('admittance is -0.1')
  })
})
