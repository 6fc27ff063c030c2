import { describe, expect, it } from 'vitest'
import { hornWavefront } from '../../../../../src/acoustics/radiation/boundary-elements/horn-wavefront.ts'
import {
  rectangleNodes,
  rectanglePotential,
} from '../../../../../src/acoustics/radiation/boundary-elements/rectangle-potential.ts'

const degrees = Math.PI / 180
const out = new Float64Array(2)
const mouth = {
  mouthWidthM: 0.26,
  mouthHeightM: 0.17,
  horizontalCoverageRad: 90 * degrees,
  verticalCoverageRad: 60 * degrees,
}

describe('the potential of a moving rectangle', () => {
  it('at rest (k = 0) over its middle is the closed form of an evenly charged plate', () => {
    const flat = {
      halfWidthM: 0.3,
      halfHeightM: 0.2,
      phaseSlopeRadPerM: 0,
      shortestScaleM: 1,
      velocityAt: (_u: number, _v: number, velocity: Float64Array) => velocity.set([1, 0]),
    }
    const nodes = rectangleNodes(flat, 0)
    // ∫ dS/R over a rectangle from its centre: 4 [b asinh(a/b) + a asinh(b/a)]
    const expected = (4 * (0.2 * Math.asinh(1.5) + 0.3 * Math.asinh(1 / 1.5))) / (4 * Math.PI)
    rectanglePotential(flat, nodes, 0, 0, 0, 0, out)
    expect(out[0]).toBeCloseTo(expected, 9)
    // From a corner each of the four quarters doubles in both directions.
    rectanglePotential(flat, nodes, 0, 0.3, 0.2, 0, out)
    expect(out[0]).toBeCloseTo(expected / 2, 9)
  })

  it('near and on a horn’s mouth equals a plain sum over a very fine grid', () => {
    const k = 37
    const horn = hornWavefront(mouth, k)
    const nodes = rectangleNodes(horn, k)
    const velocity = new Float64Array(2)
    const steps = 700
    for (const [u, v, h] of [
      [0.05, 0.02, 0.02],
      [0.135, -0.05, 0.01],
      [0.15, 0, 0],
      [0.3, 0.3, 0.1],
    ] as const) {
      let re = 0
      let im = 0
      for (let i = 0; i < steps; i++) {
        for (let j = 0; j < steps; j++) {
          const x = -0.13 + (0.26 * (i + 0.5)) / steps
          const y = -0.085 + (0.17 * (j + 0.5)) / steps
          horn.velocityAt(x, y, velocity)
          const distance = Math.hypot(x - u, y - v, h)
          const [size, lag] = velocity as unknown as [number, number]
          const weight = ((0.26 * 0.17) / steps ** 2 / (4 * Math.PI * distance)) * size
          re += weight * Math.cos(k * distance + lag)
          im -= weight * Math.sin(k * distance + lag)
        }
      }
      rectanglePotential(horn, nodes, k, u, v, h, out)
      // 3e-5: the midpoint sum itself errs by the square of 0.37 mm over 10 mm
      expect(Math.hypot((out[0] as number) - re, (out[1] as number) - im) / Math.hypot(re, im)).toBeLessThan(3e-5)
    }
  })

  it('beside the mouth is the same by Gauss points as by triangles', () => {
    for (const k of [5, 18, 37]) {
      const horn = hornWavefront(mouth, k)
      const nodes = rectangleNodes(horn, k)
      const byTriangles = new Float64Array(2)
      for (const steps of [1.01, 1.5, 1.99, 2.01]) {
        for (const v of [0, 0.07, 0.085 + steps * nodes.stepM]) {
          const u = v > 0.085 ? 0.05 : 0.13 + steps * nodes.stepM
          rectanglePotential(horn, nodes, k, u, v, 0, out)
          rectanglePotential(horn, { ...nodes, stepM: 1 }, k, u, v, 0, byTriangles)
          // 1e-6: triangles err by up to 5e-7, Gauss points by 4e-8
          const difference = Math.hypot(...out.map((part, i) => part - (byTriangles[i] as number)))
          expect(difference / Math.hypot(...out)).toBeLessThan(1e-6)
        }
      }
    }
  })
})

describe('the wavefront on a horn’s mouth', () => {
  it('of equal apexes is that of a point source behind it', () => {
    const square = {
      mouthWidthM: 0.2,
      mouthHeightM: 0.2,
      horizontalCoverageRad: 80 * degrees,
      verticalCoverageRad: 80 * degrees,
    }
    const apexM = 0.1 / Math.tan(40 * degrees)
    const k = 90
    const velocity = new Float64Array(2)
    for (const [u, v] of [
      [0, 0],
      [0.1, 0],
      [0.03, -0.09],
      [-0.1, 0.1],
    ] as const) {
      hornWavefront(square, k).velocityAt(u, v, velocity)
      const r = Math.hypot(u, v, apexM)
      expect(velocity[0]).toBeCloseTo((apexM / r) ** 2, 12)
      expect(velocity[1]).toBeCloseTo(k * (r - apexM), 12)
    }
  })
  it('of very narrow coverage is flat, and stays finite for the widest', () => {
    const velocity = new Float64Array(2)
    hornWavefront({ ...mouth, horizontalCoverageRad: 1e-9, verticalCoverageRad: 1e-9 }, 400).velocityAt(
      0.13,
      0.08,
      velocity,
    )
    expect(velocity[0]).toBeCloseTo(1, 4)
    hornWavefront({ ...mouth, horizontalCoverageRad: Math.PI, verticalCoverageRad: Math.PI }, 400).velocityAt(
      0.13,
      0.08,
      velocity,
    )
    expect(velocity[0]).toBeGreaterThan(0)
  })
})
