import { describe, expect, it } from 'vitest'
import { type ComplexMap, solveByResiduals } from '../../../../../src/acoustics/radiation/box-group/complex-gmres.ts'
import { parameterAt, placeM, sideRule } from '../../../../../src/acoustics/radiation/box-surface/edge-rule.ts'

const size = 12
/** ½ on the diagonal and something complex and uneven beside it. */
const entry = (i: number, j: number): [number, number] => [
  (i === j ? 0.5 : 0) + 0.1 * Math.sin(3 * i + 5 * j * j),
  0.1 * Math.cos(7 * i * j + 1),
]
const map: ComplexMap = (re, im, outRe, outIm) => {
  for (let i = 0; i < size; i++) {
    outRe[i] = 0
    outIm[i] = 0
    for (let j = 0; j < size; j++) {
      const [a, b] = entry(i, j)
      outRe[i] = (outRe[i] as number) + a * (re[j] as number) - b * (im[j] as number)
      outIm[i] = (outIm[i] as number) + a * (im[j] as number) + b * (re[j] as number)
    }
  }
}

describe('solving by steps', () => {
  it('finds the vector that was mapped, within as many steps as there are unknowns', () => {
    const x = { re: Float64Array.from({ length: size }, (_, i) => i - 3), im: new Float64Array(size).fill(2) }
    const right = { re: new Float64Array(size), im: new Float64Array(size) }
    map(x.re, x.im, right.re, right.im)
    const found = solveByResiduals(map, right, 1e-10)
    expect(found.steps).toBeLessThanOrEqual(size)
    for (let i = 0; i < size; i++) {
      expect(found.re[i]).toBeCloseTo(x.re[i] as number, 7)
      expect(found.im[i]).toBeCloseTo(x.im[i] as number, 7)
    }
  })

  it('gives nothing for nothing', () => {
    const none = { re: new Float64Array(size), im: new Float64Array(size) }
    expect(solveByResiduals(map, none, 1e-6)).toEqual({ ...none, steps: 0 })
  })
})

describe('a side between two edges', () => {
  it('has points that integrate powers of the distance from either end, and parameters that lead back', () => {
    const { placesM, weightsM, patches } = sideRule(-0.2, 0.5, true, 8)
    const integral = (f: (place: number) => number) =>
      placesM.reduce((sum, place, i) => sum + (weightsM[i] as number) * f(place), 0)
    expect(integral(() => 1)).toBeCloseTo(0.7, 12)
    // ∫ r^{2/3} dr = (3/5) L^{5/3}
    const exact = 0.6 * 0.7 ** (5 / 3)
    expect(integral((place) => (place + 0.2) ** (2 / 3))).toBeCloseTo(exact, 5)
    expect(integral((place) => (0.5 - place) ** (2 / 3))).toBeCloseTo(exact, 5)
    const [patch] = patches
    if (!patch) throw new Error('no patch')
    for (const t of [0, 1e-4, 0.2, 0.5, 0.8, 0.9999, 1]) {
      expect(parameterAt(patch, placeM(patch, t))).toBeCloseTo(t, 6)
    }
  })
})
