import { describe, expect, it } from 'vitest'
import { boxDoubleLayer, boxImages } from '../../../../../src/acoustics/radiation/box-surface/box-double-layer.ts'
import { boxPoints } from '../../../../../src/acoustics/radiation/box-surface/box-points.ts'
import { type EdgePatch, edgeRule } from '../../../../../src/acoustics/radiation/box-surface/edge-rule.ts'
import { interiorEighth } from '../../../../../src/acoustics/radiation/box-surface/interior-points.ts'
import { nearIntegrals } from '../../../../../src/acoustics/radiation/box-surface/near-integrals.ts'

const size = { widthM: 0.3, heightM: 0.5, depthM: 0.4 }
const points = boxPoints(size, [edgeRule(0.15, [], [6]), edgeRule(0.25, [], [7]), edgeRule(0.2, [], [6])])

describe('integrals over a patch near a place', () => {
  const u = edgeRule(0.15, [], [6]).patches[0] as EdgePatch
  const v = edgeRule(0.25, [], [7]).patches[0] as EdgePatch

  it('of an even density over R³ are the solid angle over the height', () => {
    const cubes = new Float64Array(42)
    const inverses = new Float64Array(42)
    for (const [x, y, h] of [
      [0.05, 0.1, 0.02],
      [0.15, 0.1, 0.003],
      [0.15, 0.2499, 2e-5],
      [0.2, -0.1, 0.05],
    ] as const) {
      nearIntegrals(u, v, x, y, h, cubes, inverses)
      const corner = (a: number, b: number) => Math.atan2(a * b, h * Math.hypot(a, b, h))
      const solidAngle = corner(0.15 - x, 0.25 - y) - corner(-x, 0.25 - y) - corner(0.15 - x, -y) + corner(-x, -y)
      const computed = h * cubes.reduce((a, b) => a + b)
      // 1e-4 of the sphere's octant: a hundredth of what a level to 0.1 dB asks of one face
      expect(Math.abs(computed - solidAngle)).toBeLessThan(1e-4)
    }
  })

  it('of an even density over R are the potential of a rectangle, from its closed form', () => {
    const cubes = new Float64Array(42)
    const inverses = new Float64Array(42)
    for (const [x, y, h] of [
      [0.05, 0.1, 0.02],
      [0.15, 0.1, 0.003],
      [0.2, -0.1, 0.05],
    ] as const) {
      nearIntegrals(u, v, x, y, h, cubes, inverses)
      // ∬ dS/R = a asinh(b/√(a²+h²)) + b asinh(a/√(b²+h²)) − h atan(ab/hR) between the corners
      const corner = (a: number, b: number) =>
        a * Math.asinh(b / Math.hypot(a, h)) +
        b * Math.asinh(a / Math.hypot(b, h)) -
        h * Math.atan2(a * b, h * Math.hypot(a, b, h))
      const exact = corner(0.15 - x, 0.25 - y) - corner(-x, 0.25 - y) - corner(0.15 - x, -y) + corner(-x, -y)
      expect(inverses.reduce((a, b) => a + b) / exact).toBeCloseTo(1, 4)
    }
  })
})

describe('the double layer of a box', () => {
  it('of even density is −1 inside, −1/2 on a face and 0 outside at rest, however near an edge', () => {
    const re = new Float64Array(points.count)
    const im = new Float64Array(points.count)
    const total = (x: number, y: number, z: number): number => {
      let sum = 0
      for (const [sx, sy, sz] of boxImages) {
        boxDoubleLayer(points, 0, [sx * x, sy * y, sz * z], re, im)
        sum += re.reduce((a, b) => a + b)
        expect(im.every((part) => part === 0)).toBe(true)
      }
      return sum
    }
    // 3e-4: a few faces, each as right as the integrals above
    expect(Math.abs(total(0.01, 0.03, 0.02) + 1)).toBeLessThan(3e-4)
    expect(Math.abs(total(0.149, 0.249, 0.199) + 1)).toBeLessThan(3e-4)
    expect(Math.abs(total(0.15, 0.1, 0.05) + 0.5)).toBeLessThan(3e-4)
    expect(Math.abs(total(0.15, 0.24999, 0.1) + 0.5)).toBeLessThan(3e-4)
    expect(Math.abs(total(0.1501, 0.2, 0.1))).toBeLessThan(3e-4)
    expect(Math.abs(total(1, 0.4, -2))).toBeLessThan(3e-4)
  })

  it('has an eighth of the surface as its weights', () => {
    expect(points.weightsM2.reduce((a, b) => a + b)).toBeCloseTo((0.3 * 0.5 + 0.5 * 0.4 + 0.4 * 0.3) / 4, 14)
  })
})

describe('inner points', () => {
  it('stay off the planes of symmetry and off the surface', () => {
    const inner = interiorEighth(size, 50)
    expect(inner).toHaveLength(50)
    for (const { xM, yM, zM } of inner) {
      expect(Math.min(xM, yM, zM)).toBeGreaterThan(0)
      expect(xM).toBeLessThan(0.15)
      expect(yM).toBeLessThan(0.25)
      expect(zM).toBeLessThan(0.2)
    }
  })
})
