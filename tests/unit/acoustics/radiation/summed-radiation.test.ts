import { describe, expect, test } from 'vitest'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import type { Radiation } from '../../../../src/acoustics/radiation/radiation.ts'
import { sphereCabinet } from '../../../../src/acoustics/radiation/sphere-cabinet.ts'
import { summedRadiation } from '../../../../src/acoustics/radiation/summed-radiation.ts'

const air = makeAir()

/** A point source moved along an axis. */
function movedMonopole(frequencyHz: number, axis: 'xM' | 'zM', byM: number): Radiation {
  const source = monopole(frequencyHz, air)
  return { ...source, pressureAt: (point) => source.pressureAt({ ...point, [axis]: point[axis] - byM }) }
}

describe('a sum of radiations', () => {
  test.each([0.2, 1, 3, 9])('two equal point sources, kd = %d: their power is 2 (1 + sin kd / kd) of one', (kd) => {
    const frequencyHz = 500
    const spacingM = (kd * air.speedOfSoundMps) / (2 * Math.PI * frequencyHz)
    const parts = [-0.5, 0.5].map((place) => ({
      radiation: movedMonopole(frequencyHz, 'xM', place * spacingM),
      weight: { re: 1, im: 0 },
    }))
    const { powerW } = summedRadiation(parts, spacingM / 2, air)
    // Textbook result for two monopoles in phase (Kinsler and others), exact.
    expect(powerW / monopole(frequencyHz, air).powerW).toBeCloseTo(2 * (1 + Math.sin(kd) / kd), 6)
  })

  test('one source delayed by its distance behind the other, and inverted, is silent behind: a cardioid of small spacing', () => {
    const frequencyHz = 100
    const spacingM = 0.01
    const lateRad = (2 * Math.PI * frequencyHz * spacingM) / air.speedOfSoundMps
    const sum = summedRadiation(
      [
        { radiation: movedMonopole(frequencyHz, 'zM', 0), weight: { re: 1, im: 0 } },
        {
          radiation: movedMonopole(frequencyHz, 'zM', -spacingM),
          weight: { re: -Math.cos(lateRad), im: Math.sin(lateRad) },
        },
      ],
      spacingM,
      air,
    )
    expect(sum.farFieldDb(Math.PI, 0)).toBeLessThan(-100)
    expect(sum.farFieldDb(Math.PI / 2, 0)).toBeCloseTo(20 * Math.log10(0.5), 2)
    expect(sum.directivityIndexDb).toBeCloseTo(10 * Math.log10(3), 2)
  })

  test('of one part is that part', () => {
    const cabinet = {
      widthM: 0.32,
      heightM: 0.56,
      depthM: 0.3,
      drivers: [{ kind: 'piston' as const, radiusM: 0.105, xM: 0, yM: -0.135 }],
    }
    const single = sphereCabinet(cabinet, 1000, air)
    const sum = summedRadiation([{ radiation: single, weight: { re: 0.5, im: 0 } }], 0.75, air)
    expect(sum.powerW / single.powerW).toBeCloseTo(0.25, 6)
    expect(sum.directivityIndexDb).toBeCloseTo(single.directivityIndexDb, 5)
    expect(sum.farFieldDb(2, 0.3)).toBeCloseTo(single.farFieldDb(2, 0.3), 2)
  })

  test('refuses nothing at all, two frequencies, and weights or a reach that are not numbers', () => {
    const part = (frequencyHz: number, re = 1) => ({ radiation: monopole(frequencyHz, air), weight: { re, im: 0 } })
    expect(() => summedRadiation([], 1, air)).toThrow(/parts.length is 0/)
    expect(() => summedRadiation([part(100), part(200)], 1, air)).toThrow(/200/)
    expect(() => summedRadiation([part(100, Number.NaN)], 1, air)).toThrow(/weight/)
    expect(() => summedRadiation([part(100)], Number.POSITIVE_INFINITY, air)).toThrow(/reachM/)
    expect(() => summedRadiation([part(100), part(100, -1)], 1, air).farFieldDb(0, 0)).toThrow(/cancel/)
  })
})
