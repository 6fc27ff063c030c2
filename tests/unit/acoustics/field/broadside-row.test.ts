import { describe, expect, it } from 'vitest'
import { broadsideRow } from '../../../../src/acoustics/field/broadside-row.ts'
import { makeAir, monopole } from '../../../../src/acoustics/index.ts'

const air = makeAir()
const radiation = (frequencyHz: number) => monopole(frequencyHz, air)
const spec = { count: 4, spacingM: 1.2, centre: { xM: 1, yM: 0.31, zM: 2 }, yawRad: 0, radiation }
const round = (value: number): number => Number(value.toFixed(9))

describe('broadside row', () => {
  it('is [left … right], even about the centre, across the yaw', () => {
    const across = (yawRad: number) =>
      broadsideRow({ ...spec, yawRad }).map(({ position }) => [round(position.xM), round(position.zM)])
    expect(across(0)).toEqual([
      [-0.8, 2],
      [0.4, 2],
      [1.6, 2],
      [2.8, 2],
    ])
    expect(across(Math.PI / 2)).toEqual([
      [1, 3.8],
      [1, 2.6],
      [1, 1.4],
      [1, 0.2],
    ])
  })
  it('plays in step', () => {
    for (const { delayS, polarity, gain, yawRad } of broadsideRow({ ...spec, yawRad: 0.4 })) {
      expect([delayS, polarity, gain, yawRad]).toEqual([0, 1, 1, 0.4])
    }
  })
  it('of one box is the box itself', () => {
    expect(broadsideRow({ ...spec, count: 1 }).map(({ position }) => position)).toEqual([spec.centre])
  })
  it('refuses values out of range', () => {
    for (const count of [0, 65, 2.5, Number.NaN]) {
      expect(() => broadsideRow({ ...spec, count })).toThrow(`count is ${count}`)
    }
    for (const spacingM of [0, -0.5, 101, Number.NaN]) {
      expect(() => broadsideRow({ ...spec, spacingM })).toThrow(`spacingM is ${spacingM}`)
    }
    expect(broadsideRow({ ...spec, count: 64, spacingM: 100 })).toHaveLength(64)
    expect(() => broadsideRow({ ...spec, yawRad: Number.POSITIVE_INFINITY })).toThrow('yawRad is Infinity')
    expect(() => broadsideRow({ ...spec, centre: { ...spec.centre, zM: Number.NaN } })).toThrow('centre.zM is NaN')
  })
})
