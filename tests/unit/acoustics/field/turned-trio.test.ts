import { describe, expect, it } from 'vitest'
import { turnedTrio } from '../../../../src/acoustics/field/turned-trio.ts'
import { makeAir, monopole } from '../../../../src/acoustics/index.ts'

const air = makeAir()
const radiation = (frequencyHz: number) => monopole(frequencyHz, air)
const spec = { spacingM: 0.66, pitchM: 0.6, centre: { xM: 2, yM: 0.31, zM: 5 }, yawRad: 0, radiation }
const round = (value: number): number => Number(value.toFixed(9))

describe('turned trio', () => {
  it('is [left, middle, right]; the middle one stands its spacing behind the faces of the others', () => {
    const trio = turnedTrio(spec, air)
    expect(trio.map(({ position }) => [round(position.xM), position.yM, round(position.zM)])).toEqual([
      [1.4, 0.31, 5],
      [2, 0.31, 4.34],
      [2.6, 0.31, 5],
    ])
  })
  it('turns, delays and inverts the middle one alone', () => {
    const trio = turnedTrio(spec, air)
    expect(trio.map(({ yawRad }) => yawRad)).toEqual([0, Math.PI, 0])
    expect(trio.map(({ polarity }) => polarity)).toEqual([1, -1, 1])
    expect(trio.map(({ delayS }) => delayS)).toEqual([0, 0.66 / air.speedOfSoundMps, 0])
    expect(trio.map(({ gain }) => gain)).toEqual([1, 1, 1])
  })
  it('follows the yaw: fired to the right, its left box is the farther forward on the plan', () => {
    const trio = turnedTrio({ ...spec, yawRad: Math.PI / 2 }, air)
    expect(trio.map(({ position }) => [round(position.xM), round(position.zM)])).toEqual([
      [2, 5.6],
      [1.34, 5],
      [2, 4.4],
    ])
  })
  it('follows a speed of sound set by hand', () => {
    expect(turnedTrio({ ...spec, spacingM: 1 }, { ...air, speedOfSoundMps: 250 })[1]?.delayS).toBe(0.004)
  })
  it('refuses values out of range', () => {
    for (const bad of [0, -1, 101, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => turnedTrio({ ...spec, spacingM: bad }, air)).toThrow(`spacingM is ${bad}`)
      expect(() => turnedTrio({ ...spec, pitchM: bad }, air)).toThrow(`pitchM is ${bad}`)
    }
    expect(() => turnedTrio({ ...spec, spacingM: 100, pitchM: 100 }, air)).not.toThrow()
    expect(() => turnedTrio({ ...spec, yawRad: Number.NaN }, air)).toThrow('yawRad is NaN')
    expect(() => turnedTrio({ ...spec, centre: { ...spec.centre, xM: Number.NaN } }, air)).toThrow('centre.xM is NaN')
    expect(() => turnedTrio(spec, { ...air, speedOfSoundMps: 0 })).toThrow(RangeError)
  })
})
