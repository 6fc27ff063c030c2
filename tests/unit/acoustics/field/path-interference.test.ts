import { describe, expect, it } from 'vitest'
import { dipsHz, risesHz } from '../../../../src/acoustics/field/path-interference.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'

const air = makeAir()

describe('dips and rises of two arrivals', () => {
  it('past mistake: 4.88 m there and back gives a rise, not a dip, at 70 Hz; the dip is at half of that', () => {
    expect(risesHz(4.88, 200, air)[0]).toBeCloseTo(70.33, 2)
    expect(dipsHz(4.88, 200, air)[0]).toBeCloseTo(35.16, 2)
  })

  it('dips lie at odd and rises at whole multiples, alternating', () => {
    const dips = dipsHz(1, 2000, air)
    const rises = risesHz(1, 2000, air)
    dips.forEach((dip, n) => {
      expect(dip).toBeCloseTo((2 * n + 1) * 171.6, 9)
    })
    rises.forEach((rise, n) => {
      expect(rise).toBeCloseTo((n + 1) * 343.2, 9)
      expect(rise).toBeGreaterThan(dips[n] as number)
    })
    expect(dips.length).toBe(6)
    expect(rises.length).toBe(5)
  })

  it('include the upper limit itself, and nothing above it', () => {
    const fast = { ...air, speedOfSoundMps: 400 }
    expect(risesHz(1, 400, fast)).toEqual([400])
    expect(risesHz(1, 399.9, fast)).toEqual([])
    expect(dipsHz(2, 300, fast)).toEqual([100, 300])
  })

  it('follow the speed of sound of the air, also one set by hand', () => {
    const warm = makeAir({ temperatureC: 35 })
    expect(dipsHz(2, 1000, warm)[0]).toBeCloseTo(warm.speedOfSoundMps / 4, 9)
    expect(dipsHz(2, 1000, { ...air, speedOfSoundMps: 300 })[0]).toBe(75)
  })

  it('refuse a path difference, limit or air outside the range', () => {
    for (const of of [dipsHz, risesHz]) {
      for (const value of [0, -1, 1000.1, Number.NaN])
        expect(() => of(value, 100, air)).toThrow(`pathDifferenceM is ${value}`)
      for (const value of [0, -1, 1e6 + 1, Infinity]) expect(() => of(1, value, air)).toThrow(`upToHz is ${value}`)
      expect(() => of(1, 100, { ...air, speedOfSoundMps: 0 })).toThrow(RangeError)
      expect(of(1000, 100, air).length).toBeGreaterThan(0)
    }
  })
})
