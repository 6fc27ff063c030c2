import { describe, expect, it } from 'vitest'
import { makeAir, requireAir } from '../../../../src/acoustics/medium/air.ts'

describe('air', () => {
  it('has by default 20 °C, 50 % and 101.325 kPa, where sound travels at 343.2 m/s (ISO 9613-1)', () => {
    const air = makeAir()
    expect(air).toMatchObject({ temperatureC: 20, relativeHumidityPct: 50, pressureKPa: 101.325 })
    expect(air.speedOfSoundMps).toBeCloseTo(343.2, 12)
  })

  it('carries sound faster by the square root of absolute temperature', () => {
    const ratio = makeAir({ temperatureC: 50 }).speedOfSoundMps / makeAir({ temperatureC: -20 }).speedOfSoundMps
    expect(ratio).toBeCloseTo(Math.sqrt(323.15 / 253.15), 12)
  })

  it('is denser in proportion to pressure, at an unchanged speed of sound', () => {
    const thin = makeAir({ pressureKPa: 50 })
    const thick = makeAir({ pressureKPa: 100 })
    expect(thick.densityKgM3 / thin.densityKgM3).toBeCloseTo(2, 12)
    expect(thick.speedOfSoundMps).toBe(thin.speedOfSoundMps)
  })

  it('is made at both ends of every range and refused just outside, naming argument, value and range', () => {
    for (const [name, low, high] of [
      ['temperatureC', -20, 50],
      ['relativeHumidityPct', 0, 100],
      ['pressureKPa', 20, 200],
    ] as const) {
      for (const value of [low, high]) expect(requireAir(makeAir({ [name]: value }))[name]).toBe(value)
      for (const value of [low - 0.001, high + 0.001, Number.NaN, Infinity]) {
        expect(() => makeAir({ [name]: value })).toThrow(RangeError)
        expect(() => makeAir({ [name]: value })).toThrow(
          `${name} is ${value}; allowed is a finite number from ${low} to ${high}`,
        )
      }
    }
  })

  it('may have its speed and density set by hand, but not to nothing', () => {
    expect(requireAir({ ...makeAir(), speedOfSoundMps: 340, densityKgM3: 1.2 }).speedOfSoundMps).toBe(340)
    expect(() => requireAir({ ...makeAir(), speedOfSoundMps: 0 })).toThrow('air.speedOfSoundMps is 0')
    expect(() => requireAir({ ...makeAir(), densityKgM3: Number.NaN })).toThrow('air.densityKgM3 is NaN')
    expect(() => requireAir({ ...makeAir(), temperatureC: 51 })).toThrow('air.temperatureC is 51')
  })
})
