import { describe, expect, it } from 'vitest'
import { fromPolar } from '../../../../src/acoustics/complex.ts'
import {
  type Complex,
  gradientPair,
  type Hall,
  hallField,
  hallSurfaces,
  makeAir,
  monopole,
  multiply,
  type PlacedSource,
  type Point,
  planOfPressure,
  type Radiation,
} from '../../../../src/acoustics/index.ts'

const air = makeAir()
const at = (xM: number, yM: number, zM: number): Point => ({ xM, yM, zM })
const source = (position: Point, change: Partial<PlacedSource> = {}): PlacedSource => ({
  radiation: (frequencyHz) => monopole(frequencyHz, air),
  position,
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
  ...change,
})
const hall = (absorptions: number[]): Hall => ({
  lengthM: 18,
  widthM: 11,
  heightM: 4.6,
  absorption: () => 0.2,
  surfaces: Object.fromEntries(
    hallSurfaces.map((surface, i) => [surface, () => absorptions[i] as number]),
  ) as Hall['surfaces'] & object,
})
const timber = hall([0.18, 0.25, 0.22, 0.35, 0.1, 0.4])
const differencePct = (a: Complex, b: Complex) => (100 * Math.hypot(a.re - b.re, a.im - b.im)) / Math.hypot(b.re, b.im)
const places = [at(0, 1.7, 8), at(-4, 1.2, 15), at(5, 1.6, 0.5), at(1.5, 1.5, 4)]

describe('sound in a box-shaped hall', () => {
  it('is the same with source and listener exchanged', () => {
    for (const place of places) {
      for (const frequencyHz of [30, 72]) {
        const there = hallField([source(at(1.3, 0.8, 2.1))], timber, frequencyHz, air)(place)
        const back = hallField([source(place)], timber, frequencyHz, air)(at(1.3, 0.8, 2.1))
        expect(differencePct(there, back)).toBeLessThan(0.5)
      }
    }
  })

  it('is alike on both sides of a hall that is', () => {
    const even = hall([0.2, 0.2, 0.1, 0.3, 0.1, 0.4])
    const here = hallField([source(at(1.3, 0.8, 2.1))], even, 60, air)(at(-3, 1.5, 9))
    const mirrored = hallField([source(at(-1.3, 0.8, 2.1))], even, 60, air)(at(3, 1.5, 9))
    expect(differencePct(mirrored, here)).toBeLessThan(1e-6)
  })

  it('one source with a pattern sounds like the two that it is made of, in whatever direction it is turned', () => {
    for (const yawRad of [0, 1.1, -2.5]) {
      const centre = at(1.3, 0.8, 3.1)
      const own = (frequencyHz: number) => monopole(frequencyHz, air)
      const [front, rear] = gradientPair({ spacingM: 0.9, centre: at(0, 0, 0), yawRad: 0, radiation: own }, air)
      const radiation = (frequencyHz: number): Radiation => ({
        ...monopole(frequencyHz, air),
        pressureAt: (point) => {
          const parts = [front, rear].map((part) => {
            const { position, delayS, polarity } = part as PlacedSource
            const p = own(frequencyHz).pressureAt({ ...point, zM: point.zM - position.zM })
            return multiply(p, fromPolar(polarity, -2 * Math.PI * frequencyHz * delayS))
          })
          return parts.reduce((a, b) => ({ re: a.re + b.re, im: a.im + b.im }))
        },
      })
      const single = hallField([source(centre, { radiation, yawRad })], timber, 60, air)
      const pair = hallField(gradientPair({ spacingM: 0.9, centre, yawRad, radiation: own }, air), timber, 60, air)
      const squares = places.map((place) => {
        const [one, two] = [single(place), pair(place)]
        return { off: (one.re - two.re) ** 2 + (one.im - two.im) ** 2, whole: two.re ** 2 + two.im ** 2 }
      })
      const sumOf = (part: 'off' | 'whole') => squares.reduce((sum, square) => sum + square[part], 0)
      expect(Math.sqrt(sumOf('off') / sumOf('whole'))).toBeLessThan(0.03)
    }
  })

  it('between almost open surfaces is little more than the direct sound', () => {
    const field = hallField([source(at(1.3, 0.8, 2.1))], hall([0.95, 0.95, 0.95, 0.95, 0.95, 0.95]), 80, air)
    const level = ({ re, im }: Complex) => 20 * Math.log10(Math.hypot(re, im))
    expect(
      Math.abs(level(field(at(1.5, 1.5, 4))) - level(monopole(80, air).pressureAt(at(0.2, 0.7, 1.9)))),
    ).toBeLessThan(2)
  })

  it('doubles twice with two sources in one place and vanishes with one inverted', () => {
    const field = (polarity: 1 | -1) =>
      hallField([source(at(1, 1, 2)), source(at(1, 1, 2), { polarity })], timber, 50, air)
    const one = hallField([source(at(1, 1, 2))], timber, 50, air)(places[0] as Point)
    expect(field(1)(places[0] as Point).re).toBeCloseTo(2 * one.re, 9)
    expect(Math.hypot(field(-1)(places[0] as Point).re, field(-1)(places[0] as Point).im)).toBeLessThan(1e-9)
    expect(hallField([], timber, 50, air)(places[0] as Point)).toEqual({ re: 0, im: 0 })
  })

  it('makes a picture, leaves places out, and can be stopped', () => {
    const field = hallField([source(at(0, 1, 2))], timber, 50, air)
    const grid = { xMinM: -5, xMaxM: 5, zMinM: 1, zMaxM: 17, columns: 3, rows: 2, heightM: 1.6 }
    const picture = planOfPressure(field, grid, { leftOut: ({ xM }) => xM > 4 })
    expect([...(picture?.inside ?? [])]).toEqual([0, 0, 1, 0, 0, 1])
    expect(picture?.re[1]).toBeCloseTo(field(at(0, 1.6, 1)).re, 3)
    expect(picture?.re[2]).toBe(0)
    expect(planOfPressure(field, grid, { shouldStop: () => true })).toBeUndefined()
  })

  it('refuses places outside the hall and values out of range', () => {
    const field = hallField([source(at(0, 1, 2))], timber, 50, air)
    expect(() => field(at(6, 1, 2))).toThrow('listener.xM is 6')
    expect(() => field(at(0, -1, 2))).toThrow('listener.yM is -1')
    expect(() => hallField([source(at(0, 1, 19))], timber, 50, air)).toThrow('sources[0].position.zM is 19')
    for (const frequencyHz of [9, 501, Number.NaN]) {
      expect(() => hallField([source(at(0, 1, 2))], timber, frequencyHz, air)).toThrow(`frequencyHz is ${frequencyHz}`)
    }
    expect(() => hallField([source(at(0, 1, 2))], hall([1.1, 0, 0, 0, 0, 0]), 50, air)).toThrow(
      'absorption of wallLeft at 50 Hz is 1.1',
    )
  })
})
