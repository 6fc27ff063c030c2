import { describe, expect, it } from 'vitest'
import { makeAir, massLawDb } from '../../../../src/acoustics/index.ts'

const air = makeAir()

describe('the mass law', () => {
  it('keeps nothing back without mass', () => {
    expect(massLawDb(0, 1000, air)).toBe(0)
  })
  it('adds 6.02 dB for twice the frequency or twice the mass where a sheet keeps back much', () => {
    const base = massLawDb(50, 1000, air)
    expect(massLawDb(50, 2000, air) - base).toBeCloseTo(20 * Math.log10(2), 3)
    expect(massLawDb(100, 1000, air) - base).toBeCloseTo(20 * Math.log10(2), 3)
  })
  it('adds less than that where it keeps back little', () => {
    expect(massLawDb(1, 100, air) - massLawDb(1, 50, air)).toBeLessThan(3)
  })
  it('lets half of the power through where the sheet and the air on both sides resist alike', () => {
    const massKgM2 = (air.densityKgM3 * air.speedOfSoundMps) / (Math.PI * 100)
    expect(massLawDb(massKgM2, 100, air)).toBeCloseTo(10 * Math.log10(2), 12)
  })
  it('refuses what is out of range by its name', () => {
    expect(() => massLawDb(-1, 100, air)).toThrow(/massKgM2 is -1; allowed is/)
    expect(() => massLawDb(10, 0, air)).toThrow(/frequencyHz is 0; allowed is/)
    expect(() => massLawDb(10, Number.NaN, air)).toThrow(RangeError)
  })
})
