import { describe, expect, it } from 'vitest'
import { endFireLine, gradientPair, makeAir, monopole } from '../../../../src/acoustics/index.ts'

const air = makeAir()
const radiation = (frequencyHz: number) => monopole(frequencyHz, air)
const centre = { xM: 2, yM: 0.3, zM: 5 }

describe('gradient pair', () => {
  it('is [front, rear], even about the centre, along the yaw', () => {
    const [front, rear] = gradientPair({ spacingM: 1.2, centre, yawRad: Math.PI / 2, radiation }, air)
    expect(front?.position.xM).toBeCloseTo(2.6, 12)
    expect(rear?.position.xM).toBeCloseTo(1.4, 12)
    expect(front?.position.zM).toBeCloseTo(5, 12)
    expect(front?.position.yM).toBe(0.3)
    expect([front?.delayS, rear?.delayS]).toEqual([0, 1.2 / air.speedOfSoundMps])
    expect([front?.polarity, rear?.polarity]).toEqual([1, -1])
    expect([front?.yawRad, rear?.yawRad, front?.gain, rear?.gain]).toEqual([Math.PI / 2, Math.PI / 2, 1, 1])
  })
  it('follows a speed of sound set by hand', () => {
    const [, rear] = gradientPair({ spacingM: 1, centre, yawRad: 0, radiation }, { ...air, speedOfSoundMps: 250 })
    expect(rear?.delayS).toBe(0.004)
  })
  it('refuses values out of range', () => {
    const spec = { spacingM: 1, centre, yawRad: 0, radiation }
    for (const spacingM of [0, -1, 101, Number.NaN]) {
      expect(() => gradientPair({ ...spec, spacingM }, air)).toThrow(`spacingM is ${spacingM}`)
    }
    expect(() => gradientPair({ ...spec, yawRad: Infinity }, air)).toThrow('yawRad is Infinity')
    expect(() => gradientPair({ ...spec, centre: { ...centre, zM: Number.NaN } }, air)).toThrow('centre.zM is NaN')
  })
})

describe('end-fire line', () => {
  it('is [rear … front], the rear box first, even about the centre', () => {
    const line = endFireLine({ count: 3, spacingM: 0.9, centre, yawRad: 0, radiation }, air)
    expect(line.map(({ position }) => Number(position.zM.toFixed(9)))).toEqual([4.1, 5, 5.9])
    expect(line.map(({ delayS }) => delayS)).toEqual([0, 0.9 / air.speedOfSoundMps, 1.8 / air.speedOfSoundMps])
    expect(line.every(({ polarity, gain }) => polarity === 1 && gain === 1)).toBe(true)
  })
  it('of one box is the box itself', () => {
    const [only] = endFireLine({ count: 1, spacingM: 0.9, centre, yawRad: 0, radiation }, air)
    expect(only?.position).toEqual(centre)
  })
  it('refuses values out of range', () => {
    for (const count of [0, 65, 1.5, Number.NaN]) {
      expect(() => endFireLine({ count, spacingM: 1, centre, yawRad: 0, radiation }, air)).toThrow(`count is ${count}`)
    }
  })
})
