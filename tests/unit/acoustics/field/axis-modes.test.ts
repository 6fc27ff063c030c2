import { describe, expect, it } from 'vitest'
import { add, type Complex, multiply } from '../../../../src/acoustics/complex.ts'
import { type AxisMode, axisModes, modeWaves } from '../../../../src/acoustics/field/axis-modes.ts'
import type { Axis } from '../../../../src/acoustics/field/hall-axes.ts'

const axis = (low: number, high: number, lengthM = 4.6): Axis => ({
  fromM: -1,
  lengthM,
  low: { admittance: low, even: 1 },
  high: { admittance: high, even: 1 },
})
const shape = (mode: AxisMode, along: Axis, placeM: number): Complex => add(...modeWaves(mode, along, placeM))
/** ∫ψφ by Simpson's rule. */
function overlap(one: AxisMode, two: AxisMode, along: Axis): Complex {
  const steps = 2000
  let sum = { re: 0, im: 0 }
  for (let i = 0; i <= steps; i++) {
    const weight = ((i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * along.lengthM) / (3 * steps)
    const placeM = along.fromM + (i * along.lengthM) / steps
    const product = multiply(shape(one, along, placeM), shape(two, along, placeM))
    sum = { re: sum.re + weight * product.re, im: sum.im + weight * product.im }
  }
  return sum
}

const walls = [
  [0, 0],
  [0.002, 0.002],
  [0.01, 0.4],
  [0.638, 0.638],
  [0, 0.3],
] as const

describe('standing waves between two walls', () => {
  for (const [low, high] of walls)
    for (const k of [0.4, 2, 9])
      it(`meet their walls, are each other's strangers and have their norm, β ${low} and ${high}, k ${k}`, () => {
        const along = axis(low, high)
        const modes = axisModes(along, k, 12)
        expect(modes.length).toBe(Math.floor((12 * 4.6) / Math.PI) + 1)
        for (const [n, mode] of modes.entries()) {
          // ψ′ = jkβψ at the low wall, −jkβψ at the high one, by differences
          const h = 1e-5
          for (const [placeM, inward, admittance] of [
            [-1, 1, low],
            [3.6, -1, high],
          ] as const) {
            const [here, near, next] = [0, h, 2 * h].map((step) => shape(mode, along, placeM + inward * step)) as [
              Complex,
              Complex,
              Complex,
            ]
            const slope = (part: 're' | 'im') => (-3 * here[part] + 4 * near[part] - next[part]) / (2 * h)
            const size = 1 + Math.hypot(mode.q.re, mode.q.im) ** 2
            expect(Math.abs(slope('re') + k * admittance * here.im) / size).toBeLessThan(1e-4)
            expect(Math.abs(slope('im') - k * admittance * here.re) / size).toBeLessThan(1e-4)
          }
          const norm = overlap(mode, mode, along)
          expect(norm.re).toBeCloseTo(mode.norm.re, 4)
          expect(norm.im).toBeCloseTo(mode.norm.im, 4)
          for (const other of modes.slice(n + 1)) {
            const common = overlap(mode, other, along)
            expect(Math.hypot(common.re, common.im)).toBeLessThan(1e-4)
          }
          expect(mode.q.im).toBeGreaterThanOrEqual(0)
        }
      })
  it('between hard walls are the cosines', () => {
    for (const [n, mode] of axisModes(axis(0, 0), 3, 8).entries()) {
      expect(mode.q).toEqual({ re: (n * Math.PI) / 4.6, im: 0 })
      expect(shape(mode, axis(0, 0), 1.3).re).toBeCloseTo(2 * Math.cos((n * Math.PI * 2.3) / 4.6), 12)
    }
  })
})
