import { describe, expect, test } from 'vitest'
import { add, type Complex, multiply } from '../../../../src/acoustics/complex.ts'
import { groundReflection, sphericalReflection } from '../../../../src/acoustics/field/ground-reflection.ts'
import {
  makeAir,
  monopole,
  type Point,
  pressureFrom,
  rigField,
  rigSources,
  type Wall,
  walledField,
} from '../../../../src/acoustics/index.ts'
import { rigOf } from '../../../demo-gear.ts'

const air = makeAir()
const origin: Point = { xM: 0, yM: 0, zM: 0 }
const grass: Wall = { point: origin, normal: { ...origin, yM: 1 }, reflection: groundReflection(200e3, air) }
const behind: Wall = { point: { ...origin, zM: -3 }, normal: { ...origin, zM: 1 }, absorption: () => 0.19 }

const close = (a: Complex, b: Complex) => {
  expect(a.re).toBeCloseTo(b.re, 10)
  expect(a.im).toBeCloseTo(b.im, 10)
}

describe('ground that is not hard', () => {
  test('throws all back without an admittance', () => {
    expect(sphericalReflection({ re: 0, im: 0 }, 30, 0.4)).toEqual({ re: 1, im: 0 })
  })

  test('says what is out of range', () => {
    expect(() => sphericalReflection({ re: -0.1, im: 0 }, 30, 0.4)).toThrow(/admittance.re is -0.1/)
    expect(() => sphericalReflection({ re: 0.1, im: 0 }, 30, 1.1)).toThrow(/cosine is 1.1/)
    expect(() => groundReflection(10, air)).toThrow(/resistivity is 10/)
  })

  test('gives the same from here to there as from there to here', () => {
    const source = (position: Point) => ({
      radiation: (frequencyHz: number) => monopole(frequencyHz, air),
      position,
      yawRad: 0,
      gain: 1,
      delayS: 0,
      polarity: 1 as const,
    })
    const [low, high] = [
      { xM: 1, yM: 0.3, zM: 0 },
      { xM: -2, yM: 1.6, zM: 6 },
    ]
    for (const frequencyHz of [50, 700, 6000]) {
      close(
        pressureFrom([source(low)], [grass, behind], high, frequencyHz, air),
        pressureFrom([source(high)], [grass, behind], low, frequencyHz, air),
      )
    }
  })

  test('and a wall have an image in both, with what each takes', () => {
    const [source, listener, frequencyHz] = [{ xM: 0, yM: 1, zM: 0 }, { xM: 1, yM: 1.6, zM: 4 }, 400]
    const { reflection } = grass
    const pressure = ({ xM, yM, zM }: Point) =>
      monopole(frequencyHz, air).pressureAt({ xM: xM - source.xM, yM: yM - source.yM, zM: zM - source.zM })
    const offGround = (to: Point) => {
      const pathM = Math.hypot(to.xM - source.xM, to.yM - source.yM, to.zM - source.zM)
      return multiply(pressure(to), reflection?.(frequencyHz, pathM, (source.yM - to.yM) / pathM) as Complex)
    }
    const offWall = (z: Complex) => ({ re: 0.9 * z.re, im: 0.9 * z.im })
    const mirrored = { ...listener, zM: -6 - listener.zM }
    const below = (point: Point) => ({ ...point, yM: -point.yM })
    const expected = [
      pressure(listener),
      offGround(below(listener)),
      offWall(pressure(mirrored)),
      offWall(offGround(below(mirrored))),
    ]
    const placed = {
      radiation: () => monopole(frequencyHz, air),
      position: source,
      yawRad: 0,
      gain: 1,
      delayS: 0,
      polarity: 1 as const,
    }
    close(pressureFrom([placed], [grass, behind], listener, frequencyHz, air), expected.reduce(add))
  })

  test('takes each cabinet of a rig at its own height: a rig is the sum of its sources', () => {
    const rig = rigOf('top-over-sub')
    const field = walledField(rigField(rig, air), [grass, behind])
    const listener = { xM: 1.5, yM: 1.6, zM: 3 }
    for (const frequencyHz of [50, 110, 900, 5000]) {
      close(
        field.transferAt(listener, frequencyHz),
        pressureFrom(rigSources(rig, air), [grass, behind], listener, frequencyHz, air),
      )
      close(
        field.images.map((_, image) => field.arrivalAt(image, listener, frequencyHz)).reduce(add),
        field.transferAt(listener, frequencyHz),
      )
    }
  })
})
