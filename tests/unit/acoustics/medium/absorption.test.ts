import { describe, expect, it } from 'vitest'
import { absorptionDbPerM } from '../../../../src/acoustics/medium/absorption.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'

const air = makeAir()

describe('absorption by air', () => {
  it('is 4.66 dB/km at 1 kHz, 20 °C, 50 % (ISO 9613-1, Table 1; three printed digits)', () => {
    expect(Math.abs(1000 * absorptionDbPerM(1000, air) - 4.66)).toBeLessThanOrEqual(0.005)
  })

  it('rises with frequency', () => {
    let previous = 0
    for (let frequencyHz = 10; frequencyHz <= 1e6; frequencyHz *= 1.1) {
      const absorption = absorptionDbPerM(frequencyHz, air)
      expect(absorption).toBeGreaterThan(previous)
      previous = absorption
    }
  })

  it('grows with frequency squared far above the relaxations, which have reached their ceiling there', () => {
    // Differences, so that the ceiling cancels. At 250 kHz oxygen (relaxing at about 35 kHz) is 2 % short of it: 0.1 % here.
    const upper = absorptionDbPerM(1e6, air) - absorptionDbPerM(5e5, air)
    const lower = absorptionDbPerM(5e5, air) - absorptionDbPerM(2.5e5, air)
    expect(Math.abs(upper / lower - 4)).toBeLessThan(0.01)
  })

  it('is unchanged when pressure and frequency double, per wavelength: α/p depends on f/p and the vapour share alone', () => {
    // Twice the pressure holds the same share of vapour at twice the relative humidity.
    const thin = absorptionDbPerM(1000, makeAir({ pressureKPa: 50, relativeHumidityPct: 20 }))
    const thick = absorptionDbPerM(2000, makeAir({ pressureKPa: 100, relativeHumidityPct: 40 }))
    expect(thick / thin).toBeCloseTo(2, 12)
  })

  it('takes no notice of a speed or density set by hand', () => {
    expect(absorptionDbPerM(1000, { ...air, speedOfSoundMps: 300, densityKgM3: 2 })).toBe(absorptionDbPerM(1000, air))
  })

  it('is a finite positive number at every corner of its range', () => {
    for (const frequencyHz of [1e-6, 1e6]) {
      for (const temperatureC of [-20, 50]) {
        for (const relativeHumidityPct of [0, 100]) {
          for (const pressureKPa of [20, 200]) {
            const value = absorptionDbPerM(frequencyHz, makeAir({ temperatureC, relativeHumidityPct, pressureKPa }))
            expect(value).toBeGreaterThan(0)
            expect(Number.isFinite(value)).toBe(true)
          }
        }
      }
    }
  })

  it('refuses a frequency outside 0 … 1 MHz and air outside its ranges', () => {
    for (const frequencyHz of [0, -1, 1e6 + 1, Number.NaN, Infinity]) {
      expect(() => absorptionDbPerM(frequencyHz, air)).toThrow(`frequencyHz is ${frequencyHz}; allowed is`)
    }
    expect(() => absorptionDbPerM(1000, { ...air, relativeHumidityPct: 101 })).toThrow(RangeError)
  })
})
