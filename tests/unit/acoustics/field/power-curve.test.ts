import { expect, it } from 'vitest'
import { radiatedPowerW } from '../../../../src/acoustics/field/radiated-power.ts'
import { makeAir, monopole, type PlacedSource, powerCurve } from '../../../../src/acoustics/index.ts'

const air = makeAir()
let asked = 0
const source: PlacedSource = {
  radiation: (frequencyHz) => {
    asked += 1
    return monopole(frequencyHz, air)
  },
  position: { xM: 0, yM: 1, zM: 2 },
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
}

it('is the radiated power, between its frequencies within the bend of the curve, and is worked out once', () => {
  const powerAt = powerCurve([source], air)
  // A monopole of given volume velocity: ρω²/(8πc), straight in lg W over lg f.
  for (const frequencyHz of [31.5, 100, 1000, 1234, 16000]) {
    const exact = (air.densityKgM3 * (2 * Math.PI * frequencyHz) ** 2) / (8 * Math.PI * air.speedOfSoundMps)
    expect(powerAt(frequencyHz) / exact).toBeCloseTo(1, 9)
    expect(radiatedPowerW([source], frequencyHz, air) / exact).toBeCloseTo(1, 9)
  }
  asked = 0
  powerAt(1234)
  expect(asked).toBe(0)
})

it('is 0 without sources, and refuses a frequency out of range', () => {
  expect(powerCurve([], air)(100)).toBe(0)
  expect(() => powerCurve([source], air)(5)).toThrow('frequencyHz is 5')
  expect(() => powerCurve([source], air)(Number.NaN)).toThrow('frequencyHz')
})
