import { describe, expect, it } from 'vitest'
import { gaussLegendre } from '../../../../src/acoustics/special/gauss-legendre.ts'

describe('Gauss–Legendre rule', () => {
  it('has the tabulated nodes and weights for N = 5', () => {
    // DLMF Table 3.5.1
    const { nodes, weights } = gaussLegendre(5)
    expect(nodes[2]).toBeCloseTo(0, 15)
    expect(nodes[3]).toBeCloseTo(0.538469310105683, 14)
    expect(nodes[4]).toBeCloseTo(0.906179845938664, 14)
    expect(weights[2]).toBeCloseTo(0.568888888888889, 14)
    expect(weights[3]).toBeCloseTo(0.478628670499366, 14)
    expect(weights[4]).toBeCloseTo(0.236926885056189, 14)
  })

  it('integrates x^(2N − 2) exactly and has weights that add to 2', () => {
    for (const count of [1, 2, 7, 64, 301]) {
      const { nodes, weights } = gaussLegendre(count)
      const power = 2 * count - 2
      let sum = 0
      let total = 0
      nodes.forEach((x, i) => {
        sum += (weights[i] as number) * x ** power
        total += weights[i] as number
      })
      expect(total).toBeCloseTo(2, 12)
      expect(sum).toBeCloseTo(2 / (power + 1), 12)
    }
  })

  it('refuses a count of 0', () => {
    expect(() => gaussLegendre(0)).toThrow(/count is 0; allowed is a whole number from 1 to 10000/)
  })
})
