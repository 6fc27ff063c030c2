import { describe, expect, test } from 'vitest'
import { termsByParity } from '../../../../src/acoustics/field/harmonic-parity.ts'
import { fillHarmonics, highestFitOrder } from '../../../../src/acoustics/field/outgoing-fit.ts'

describe('harmonics by parity', () => {
  test.each([0, 1, 2, 5, highestFitOrder])('up to order %i are all there once', (order) => {
    const { terms, ends } = termsByParity(order)
    expect(ends).toHaveLength(8)
    expect(ends.at(-1)).toBe((order + 1) ** 2)
    expect([...terms].sort((a, b) => a - b)).toEqual(Array.from({ length: (order + 1) ** 2 }, (_, t) => t))
  })

  test('turn their sign as their list says when the direction is mirrored', () => {
    const direction = [0.48, -0.6, 0.64] as const
    const harmonicsAt = (x: number, y: number, z: number) => {
      const out = new Float64Array((highestFitOrder + 1) ** 2)
      fillHarmonics(highestFitOrder, x, y, z, out)
      return out
    }
    const own = harmonicsAt(...direction)
    const { terms, ends } = termsByParity(highestFitOrder)
    for (const [axis, bit] of [1, 2, 4].entries()) {
      const [x, y, z] = direction.map((each, i) => (i === axis ? -each : each)) as [number, number, number]
      const mirrored = harmonicsAt(x, y, z)
      for (const [i, term] of terms.entries()) {
        const parity = ends.findIndex((end) => i < end)
        const sign = parity & bit ? -1 : 1
        expect(mirrored[term], `term ${term}, axis ${axis}`).toBeCloseTo(sign * (own[term] as number), 12)
      }
    }
  })
})
