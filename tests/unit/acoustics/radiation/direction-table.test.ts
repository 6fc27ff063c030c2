import { describe, expect, test } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import {
  azimuths,
  directionRadiation,
  directionTable,
  elevations,
} from '../../../../src/acoustics/radiation/direction-table.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { spherePiston } from '../../../../src/acoustics/radiation/sphere-piston.ts'

const air = makeAir()
const ball = (frequencyHz: number) =>
  spherePiston({ radiusM: 0.1, capHalfAngleRad: 0.5, motion: 'axial' }, frequencyHz, air)
const table = directionTable(ball, { sourceYM: 0, fromHz: 2000, toHz: 8000, perOctave: 6 })
const anchor = ball(2000)
const levelDb = (pressure: { re: number; im: number }) => 20 * Math.log10(magnitude(pressure))

describe('a table of directions', () => {
  test('holds a level for each line and direction', () => {
    expect(table.frequenciesHz).toHaveLength(13)
    expect(table.levelsDb).toHaveLength(13 * azimuths * elevations)
  })

  test('at the hand-over is the anchor itself, everywhere', () => {
    const radiation = directionRadiation(table, 2000, air, anchor)
    for (const angle of [0, 0.7, 1.9, 3.1]) {
      const place = { xM: 0.6 * Math.sin(angle), yM: 0.2, zM: 0.6 * Math.cos(angle) }
      const [a, b] = [radiation.pressureAt(place), anchor.pressureAt(place)]
      expect(a.re).toBeCloseTo(b.re, 9)
      expect(a.im).toBeCloseTo(b.im, 9)
    }
  })

  test('joins on without a step: 0.5 dB within a hundredth of an octave', () => {
    const above = directionRadiation(table, 2000 * 2 ** 0.01, air, anchor)
    for (const angle of [0, 0.5, 1, 1.5, 2, 2.5, 3]) {
      const place = { xM: 3 * Math.sin(angle), yM: 0, zM: 3 * Math.cos(angle) }
      expect(Math.abs(levelDb(above.pressureAt(place)) - levelDb(anchor.pressureAt(place)))).toBeLessThan(0.5)
    }
  })

  test('an octave and more above follows the source within 1.5 dB where that is within 20 dB of the front', () => {
    for (const frequencyHz of [4000, 6300]) {
      const [kept, exact] = [directionRadiation(table, frequencyHz, air, anchor), ball(frequencyHz)]
      const frontDb = levelDb(exact.pressureAt({ xM: 0, yM: 0, zM: 3 }))
      for (const angle of [0, 0.3, 0.6, 0.9, 1.2, 1.5]) {
        const place = { xM: 3 * Math.sin(angle), yM: 0, zM: 3 * Math.cos(angle) }
        const exactDb = levelDb(exact.pressureAt(place))
        if (exactDb < frontDb - 20) continue
        // 1.5 dB: averaged over a sixth of an octave, 5° steps, and what is left of the anchor's own ripple.
        expect(Math.abs(levelDb(kept.pressureAt(place)) - exactDb), `${frequencyHz} Hz, ${angle} rad`).toBeLessThan(1.5)
      }
    }
  })

  test('power, directivity and pattern of a point source are those of a point source', () => {
    const points = directionTable((frequencyHz) => monopole(frequencyHz, air), {
      sourceYM: 0,
      fromHz: 1000,
      toHz: 4000,
      perOctave: 6,
    })
    const kept = directionRadiation(points, 2000, air, monopole(1000, air))
    // 0.05 dB: a sixth of an octave of a level that rises by 6 dB an octave, averaged.
    expect(Math.abs(10 * Math.log10(kept.powerW / monopole(2000, air).powerW))).toBeLessThan(0.05)
    expect(kept.directivityIndexDb).toBeCloseTo(0, 6)
    expect(kept.farFieldDb(2, 0.4)).toBeCloseTo(0, 6)
  })

  test('refuses frequencies outside it', () => {
    expect(() => directionRadiation(table, 1900, air, anchor)).toThrow('frequencyHz is 1900')
    expect(() => directionRadiation(table, 8100, air, anchor)).toThrow('frequencyHz is 8100')
    expect(() => directionTable(ball, { sourceYM: 0, fromHz: 2000, toHz: 1000, perOctave: 6 })).toThrow('toHz is 1000')
  })
})
