import { describe, expect, it } from 'vitest'
import { imageSigns, sortParities } from '../../../src/acoustics/radiation/boundary-elements/mirror-planes.ts'
import { doubleLayerRow } from './double-layer.ts'
import { gradedHalf, panelsAlongHalf } from './graded-half.ts'
import { groupQuads } from './group-mesh.ts'
import { panelMesh } from './panel-mesh.ts'

/** The eighth of a box of 0.3 × 0.5 × 0.4 m about the origin that lies in x > 0, y > 0, z > 0. */
const eighth = groupQuads(
  [{ from: [-0.15, -0.25, -0.2], to: [0.15, 0.25, 0.2] }],
  { x: true, y: true, z: true },
  0.05,
  3,
)

describe('an eighth of a box', () => {
  it('has an eighth of the surface, and normals that point out', () => {
    const mesh = panelMesh(eighth)
    const surface = 2 * (0.3 * 0.5 + 0.5 * 0.4 + 0.4 * 0.3)
    expect(mesh.areasM2.reduce((a, b) => a + b)).toBeCloseTo(surface / 8, 14)
    for (let j = 0; j < mesh.count; j++) {
      const outward = [0, 1, 2].reduce(
        (sum, i) => sum + (mesh.normals[3 * j + i] as number) * (mesh.centres[3 * j + i] as number),
        0,
      )
      expect(outward).toBeGreaterThan(0.14)
    }
  })
  it('gets finer towards its edges and nowhere coarser than asked', () => {
    const places = gradedHalf(0.2, 0.03, 2)
    expect(places.length - 1).toBe(panelsAlongHalf(0.2, 0.03, 2))
    const widths = places.slice(1).map((place, i) => place - (places[i] as number))
    for (const width of widths) expect(width).toBeLessThanOrEqual(0.03 + 1e-12)
    expect(widths.at(-1)).toBeLessThan(0.2 * (widths[0] as number))
    expect(places.at(-1)).toBe(0.2)
  })
  it('refuses a panel without area and one that is not flat', () => {
    const [a, b, c] = [
      { xM: 0, yM: 0, zM: 0 },
      { xM: 1, yM: 0, zM: 0 },
      { xM: 1, yM: 1, zM: 0 },
    ]
    expect(() => panelMesh([[a, b, b, a]])).toThrow(/quads\[0\] has an area of 0 m²; allowed is any area above 0/)
    expect(() => panelMesh([[a, b, c, { xM: 0, yM: 1, zM: 0.2 }]])).toThrow(/allowed is a flat panel/)
  })
})

describe('the double layer of a closed surface', () => {
  it('of even density is −1 inside, −1/2 on and 0 outside at rest, however near a panel', () => {
    const mesh = panelMesh(eighth)
    const re = new Float64Array(mesh.count)
    const im = new Float64Array(mesh.count)
    const total = (x: number, y: number, z: number): number => {
      let sum = 0
      for (const [sx, sy, sz] of imageSigns({ x: true, y: true, z: true })) {
        doubleLayerRow(mesh, 0, sx * x, sy * y, sz * z, re, im)
        sum += re.reduce((a, b) => a + b)
        expect(im.every((part) => part === 0)).toBe(true)
      }
      return sum
    }
    // 3e-5: the 2 × 2 rule of panels two diagonals away
    expect(Math.abs(total(0.01, 0.03, 0.02) + 1)).toBeLessThan(3e-5)
    expect(Math.abs(total(0.149, 0.2, 0.1) + 1)).toBeLessThan(3e-5)
    const [x, y, z] = [...mesh.centres.subarray(0, 3)] as [number, number, number]
    expect(Math.abs(total(x, y, z) + 0.5)).toBeLessThan(3e-5)
    expect(Math.abs(total(0.151, 0.2, 0.1))).toBeLessThan(3e-5)
  })
  it('with waves equals a fine sum over the panel, near and far', () => {
    const quad = panelMesh([
      [
        { xM: 0, yM: 0, zM: 0 },
        { xM: 0.03, yM: 0, zM: 0 },
        { xM: 0.03, yM: 0.02, zM: 0 },
        { xM: 0, yM: 0.02, zM: 0 },
      ],
    ])
    const k = 30
    const re = new Float64Array(1)
    const im = new Float64Array(1)
    for (const [x, y, z] of [
      [0.01, 0.012, -0.004],
      [0.04, 0.01, 0.01],
      [0.05, 0.08, -0.09],
    ] as const) {
      let sumRe = 0
      let sumIm = 0
      const steps = 300
      for (let i = 0; i < steps; i++) {
        for (let j = 0; j < steps; j++) {
          const R = Math.hypot((0.03 * (i + 0.5)) / steps - x, (0.02 * (j + 0.5)) / steps - y, z)
          const factor = (0.0006 * z) / (steps ** 2 * 4 * Math.PI * R ** 3)
          // −(1 + jkR) e^{−jkR} h/4πR³ with h = −z
          sumRe += factor * (Math.cos(k * R) + k * R * Math.sin(k * R))
          sumIm += factor * (k * R * Math.cos(k * R) - Math.sin(k * R))
        }
      }
      doubleLayerRow(quad, k, x, y, z, re, im)
      const size = Math.hypot(sumRe, sumIm)
      // 1e-3: 4 mm above a panel of 30 mm, the 4 × 4 rule sees the kink of k²h/R in the remainder; 7e-4 is what is left
      expect(Math.hypot((re[0] as number) - sumRe, (im[0] as number) - sumIm) / size).toBeLessThan(1e-3)
    }
  })
})

it('sorting into parities twice gives the values back, times their number', () => {
  const values = Float64Array.of(3, -1, 4, 1, -5, 9, 2, 6)
  const twice = Float64Array.from(values)
  sortParities(twice)
  expect(twice[0]).toBe(19)
  sortParities(twice)
  expect([...twice]).toEqual([...values].map((value) => 8 * value))
})
