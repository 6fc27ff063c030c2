import { describe, expect, test } from 'vitest'
import { type Complex, magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../../src/acoustics/point.ts'
import {
  directionCells,
  directionFrequenciesHz,
  directionRadiation,
  directionTable,
} from '../../../../src/acoustics/radiation/direction-table.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { spherePiston } from '../../../../src/acoustics/radiation/sphere-piston.ts'

const air = makeAir()
const ball = (frequencyHz: number) =>
  spherePiston({ radiusM: 0.1, capHalfAngleRad: 0.5, motion: 'axial' }, frequencyHz, air)
/** A model of a source, asked at many places. */
const pressuresOf =
  (model: (frequencyHz: number) => { pressureAt(point: Point): Complex }) =>
  (points: Point[]) =>
  (frequencyHz: number) => {
    const { pressureAt } = model(frequencyHz)
    return points.map((point) => pressureAt(point))
  }
const table = directionTable(pressuresOf(ball), {
  sourceYM: 0,
  fromHz: 2000,
  frequenciesHz: directionFrequenciesHz(2000, 8000, 6),
})
const anchor = ball(2000)
const levelDb = (pressure: { re: number; im: number }) => 20 * Math.log10(magnitude(pressure))

describe('a table of directions', () => {
  test('holds a level for each line and direction', () => {
    expect(table.frequenciesHz).toHaveLength(13)
    expect(table.levelsDb).toHaveLength(13 * directionCells(table))
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
    const points = directionTable(
      pressuresOf((frequencyHz) => monopole(frequencyHz, air)),
      {
        sourceYM: 0,
        fromHz: 1000,
        frequenciesHz: directionFrequenciesHz(1000, 4000, 6),
      },
    )
    const kept = directionRadiation(points, 2000, air, monopole(1000, air))
    // 0.05 dB: a sixth of an octave of a level that rises by 6 dB an octave, averaged.
    expect(Math.abs(10 * Math.log10(kept.powerW / monopole(2000, air).powerW))).toBeLessThan(0.05)
    expect(kept.directivityIndexDb).toBeCloseTo(0, 6)
    expect(kept.farFieldDb(2, 0.4)).toBeCloseTo(0, 6)
  })

  test('of a lopsided source tells left from right, and fewer elevations still follow it', () => {
    // Two point sources side by side, the right one late: louder to the right above, where they are in step.
    const pair = (frequencyHz: number) => {
      const one = monopole(frequencyHz, air)
      const late = (2 * Math.PI * frequencyHz * 0.02) / air.speedOfSoundMps
      return {
        ...one,
        pressureAt({ xM, yM, zM }: Point) {
          const [a, b] = [one.pressureAt({ xM: xM + 0.02, yM, zM }), one.pressureAt({ xM: xM - 0.02, yM, zM })]
          return {
            re: a.re + b.re * Math.cos(late) + b.im * Math.sin(late),
            im: a.im + b.im * Math.cos(late) - b.re * Math.sin(late),
          }
        },
      }
    }
    for (const elevations of [undefined, 13]) {
      const sides = directionTable(pressuresOf(pair), {
        sourceYM: 0,
        fromHz: 1000,
        frequenciesHz: directionFrequenciesHz(1000, 4000, 6),
        lopsided: true,
        ...(elevations && { elevations, linesAveraged: 3 }),
      })
      expect(sides.levelsDb).toHaveLength(13 * (elevations ?? 25) * 73)
      const kept = directionRadiation(sides, 2000, air, pair(1000))
      const levelAt = (angle: number, source: { pressureAt(point: Point): Complex }) =>
        levelDb(source.pressureAt({ xM: 3 * Math.sin(angle), yM: 0.2, zM: 3 * Math.cos(angle) }))
      for (const angle of [-2.5, -1.2, -0.4, 0.4, 1.2, 2.5]) {
        // 1 dB: a sixth of an octave averaged, and a quarter of the anchor's own pattern.
        expect(Math.abs(levelAt(angle, kept) - levelAt(angle, pair(2000))), `${angle} rad`).toBeLessThan(1)
      }
      expect(levelAt(1.2, kept) - levelAt(-1.2, kept)).toBeGreaterThan(3)
    }
  })

  test('in another air is the table that is taken there, at every distance and frequency', () => {
    const warm = makeAir({ temperatureC: 35 })
    const ratio = warm.speedOfSoundMps / air.speedOfSoundMps
    const warmBall = (frequencyHz: number) =>
      spherePiston({ radiusM: 0.1, capHalfAngleRad: 0.5, motion: 'axial' }, frequencyHz, warm)
    const anew = directionTable(pressuresOf(warmBall), {
      sourceYM: 0,
      fromHz: 2000 * ratio,
      frequenciesHz: directionFrequenciesHz(2000 * ratio, 8000 * ratio, 6),
    })
    const warmAnchor = warmBall(2000 * ratio)
    for (const frequencyHz of [2000 * ratio, 2300, 4100, 7990 * ratio]) {
      const read = directionRadiation(table, frequencyHz, warm, warmAnchor, air)
      const taken = directionRadiation(anew, frequencyHz, warm, warmAnchor)
      for (const angle of [0, 0.8, 1.7, 3.1]) {
        const place = { xM: 2 * Math.sin(angle), yM: 0.3, zM: 2 * Math.cos(angle) }
        const [a, b] = [read.pressureAt(place), taken.pressureAt(place)]
        // 1e-5: tables hold levels in single precision.
        const size = magnitude(b)
        expect(Math.hypot(a.re - b.re, a.im - b.im) / size, `${frequencyHz} Hz, ${angle} rad`).toBeLessThan(1e-5)
      }
      // Single precision of 70 dB.
      expect(read.directivityIndexDb).toBeCloseTo(taken.directivityIndexDb, 4)
    }
    expect(() => directionRadiation(table, 2000, warm, warmAnchor, air)).toThrow('frequencyHz is 19')
  })

  test('refuses frequencies outside it', () => {
    expect(() => directionRadiation(table, 1900, air, anchor)).toThrow('frequencyHz is 1900')
    expect(() => directionRadiation(table, 8100, air, anchor)).toThrow('frequencyHz is 8100')
    expect(() =>
      directionTable(pressuresOf(ball), {
        sourceYM: 0,
        fromHz: 2000,
        frequenciesHz: directionFrequenciesHz(2000, 1000, 6),
      }),
    ).toThrow('toHz is 1000')
    const spec = { sourceYM: 0, fromHz: 1000, frequenciesHz: directionFrequenciesHz(1000, 2000, 1) }
    expect(() => directionTable(pressuresOf(ball), { ...spec, elevations: 12 })).toThrow('elevations')
    expect(() => directionTable(pressuresOf(ball), { ...spec, linesAveraged: 0 })).toThrow('linesAveraged is 0')
  })
})
