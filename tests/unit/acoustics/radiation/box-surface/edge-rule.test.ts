import { describe, expect, it } from 'vitest'
import { nearestPolynomial } from '../../../../../src/acoustics/radiation/box-surface/edge-projection.ts'
import {
  cardinalValues,
  type EdgePatch,
  edgeRule,
  parameterAt,
  placeM,
  slopeM,
} from '../../../../../src/acoustics/radiation/box-surface/edge-rule.ts'
import { gaussLegendre } from '../../../../../src/acoustics/special/gauss-legendre.ts'

const sum = (values: Float64Array) => values.reduce((a, b) => a + b)

/** Value at a place of the polynomial through values at a rule's points. */
function interpolated(rule: ReturnType<typeof edgeRule>, values: Float64Array, place: number): number {
  const patch = rule.patches.findLast(({ fromM }) => fromM <= place) as EdgePatch
  const shares = new Float64Array(patch.count)
  cardinalValues(patch.count, parameterAt(patch, place), 1, shares, 0)
  return shares.reduce((total, share, i) => total + share * (values[patch.first + i] as number), 0)
}

describe('points along half an edge', () => {
  const rule = edgeRule(0.3, [0.1], [4, 6])

  it('have the length as their weights, rise, and stay inside', () => {
    expect(sum(rule.weightsM)).toBeCloseTo(0.3, 14)
    const places = [...rule.placesM]
    expect(places).toEqual(places.toSorted((a, b) => a - b))
    expect(places[0]).toBeGreaterThan(0)
    expect(places.at(-1)).toBeLessThan(0.3)
  })

  it('find the parameter of a place again, at the very edge too', () => {
    for (const patch of rule.patches) {
      for (const t of [0, 1e-9, 0.2, 0.5, 0.97, 1 - 1e-4, 1]) {
        // 5e-9: beside the edge the place itself is rounded, and the parameter goes like its cube root
        expect(parameterAt(patch, placeM(patch, t))).toBeCloseTo(t, 8)
      }
    }
  })

  it('have the slope that their places show', () => {
    for (const patch of rule.patches) {
      for (const t of [0.1, 0.6, 0.95]) {
        const slope = (placeM(patch, t + 1e-6) - placeM(patch, t - 1e-6)) / 2e-6
        expect(slopeM(patch, t)).toBeCloseTo(slope, 8)
      }
    }
  })

  it('meet the 2/3 power of the distance from the edge, which even Gauss points do not', () => {
    const power = (place: number) => (0.3 - place) ** (2 / 3)
    const values = rule.placesM.map(power)
    for (const place of [0.11, 0.2, 0.29, 0.2999]) {
      // Six points on the last stretch; 1e-4 of the power's size there is what (2 − τ)^{2/3} leaves them
      expect(Math.abs(interpolated(rule, values, place) - power(place))).toBeLessThan(1e-4)
    }
    const { nodes, weights } = gaussLegendre(6)
    const even = nodes.reduce((total, x, i) => total + (weights[i] as number) * 0.1 * power(0.2 + 0.1 * x), 0)
    const exact = 0.6 * 0.2 ** (5 / 3)
    const { first, count } = rule.patches[1] as EdgePatch
    const stretched = values
      .subarray(first, first + count)
      .reduce((total, value, i) => total + value * (rule.weightsM[first + i] as number), 0)
    expect(Math.abs(stretched - exact)).toBeLessThan(0.01 * Math.abs(even - exact))
  })
})

describe('the nearest polynomial', () => {
  it('of a polynomial is that polynomial, on a stretch inside and on one at an edge', () => {
    const rule = edgeRule(0.3, [0.1], [4, 6])
    for (const patch of rule.patches) {
      const f = (t: number) => 1 + t - 3 * t ** 2 + (patch.atEdge ? t ** 5 : t ** 3)
      const integrals = new Float64Array(rule.placesM.length)
      const values = new Float64Array(patch.count)
      const { nodes, weights } = gaussLegendre(12)
      nodes.forEach((x, q) => {
        const t = (1 + x) / 2
        cardinalValues(patch.count, t, ((weights[q] as number) / 2) * slopeM(patch, t) * f(t), values, 0)
        for (let i = 0; i < patch.count; i++) {
          integrals[patch.first + i] = (integrals[patch.first + i] as number) + (values[i] as number)
        }
      })
      nearestPolynomial(patch, integrals, 0, 1)
      for (let i = 0; i < patch.count; i++) {
        const t = parameterAt(patch, rule.placesM[patch.first + i] as number)
        expect(integrals[patch.first + i]).toBeCloseTo(f(t), 9)
      }
    }
  })
})
