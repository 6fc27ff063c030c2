import { describe, expect, test } from 'vitest'
import content from '../../../../content/halls/finishes.json' with { type: 'json' }
import { flowResistivityPaSM2, groundAdmittance } from '../../../../src/acoustics/medium/ground.ts'

describe('ground', () => {
  test('is harder the more air resists, and the lower the note', () => {
    const size = (resistivity: number, frequencyHz: number) => {
      const { re, im } = groundAdmittance(resistivity, frequencyHz)
      return Math.hypot(re, im)
    }
    const { loose, grass, compacted } = flowResistivityPaSM2
    expect(size(compacted, 500)).toBeLessThan(size(grass, 500))
    expect(size(grass, 500)).toBeLessThan(size(loose, 500))
    expect(size(grass, 50)).toBeLessThan(size(grass, 500))
  })

  test('takes 1 kPa·s/m² to 1 GPa·s/m² and no more', () => {
    expect(() => groundAdmittance(999, 100)).toThrow(/resistivity is 999; allowed is .*from 1000/)
    expect(() => groundAdmittance(1.1e9, 100)).toThrow(RangeError)
    expect(() => groundAdmittance(1000, 0)).toThrow(/frequencyHz is 0/)
  })

  test('is what grass as a finish of a hall takes of sound from all sides', () => {
    const steps = 2000
    for (const [octave, frequencyHz] of content.frequenciesHz.entries()) {
      const { re, im } = groundAdmittance(flowResistivityPaSM2.grass, frequencyHz)
      let sum = 0
      for (let step = 0; step < steps; step++) {
        // Even steps of cos² are even shares of the sound from all sides.
        const cosine = Math.sqrt((step + 0.5) / steps)
        sum += 1 - ((cosine - re) ** 2 + im ** 2) / ((cosine + re) ** 2 + im ** 2)
      }
      // 0.005: the file has two digits.
      expect(content.finishes.grass.absorption[octave]).toBeCloseTo(sum / steps, 2)
    }
  })
})
