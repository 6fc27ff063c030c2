import { describe, expect, it } from 'vitest'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { baffledPistonDb } from '../../../../src/acoustics/radiation/baffled-piston.ts'
import { hornControlHz } from '../../../../src/acoustics/radiation/horn-control.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { uniformLineDb } from '../../../../src/acoustics/radiation/uniform-line.ts'

const air = makeAir()

describe('a monopole', () => {
  it('loses 6.02 dB per doubling of distance and turns its phase by kr', () => {
    const source = monopole(100, air)
    const near = source.pressureAt({ xM: 0, yM: 0, zM: 1 })
    const far = source.pressureAt({ xM: 0, yM: 2, zM: 0 })
    expect(20 * Math.log10(Math.hypot(near.re, near.im) / Math.hypot(far.re, far.im))).toBeCloseTo(6.0206, 4)
    const turn = Math.atan2(near.im, near.re) - Math.atan2(far.im, far.re)
    expect(Math.cos(turn - (2 * Math.PI * 100) / air.speedOfSoundMps)).toBeCloseTo(1, 12)
  })

  it('has the power of its intensity over a sphere', () => {
    const source = monopole(250, air)
    const { re, im } = source.pressureAt({ xM: 3, yM: 0, zM: 0 })
    const intensity = (re * re + im * im) / (2 * air.densityKgM3 * air.speedOfSoundMps)
    expect(source.powerW / (intensity * 4 * Math.PI * 9)).toBeCloseTo(1, 12)
  })

  it('refuses its own place and a frequency of 0', () => {
    expect(() => monopole(100, air).pressureAt({ xM: 0, yM: 0, zM: 0 })).toThrow(RangeError)
    expect(() => monopole(0, air)).toThrow(RangeError)
    expect(() => monopole(100, air).farFieldDb(Number.NaN, 0)).toThrow(RangeError)
  })
})

describe('a piston in a baffle', () => {
  it('has the pattern of a numerical integration over its disc', () => {
    const ka = 4
    const angleRad = 0.6
    let sum = 0
    const steps = 4000
    for (let i = 0; i < steps; i++) {
      // strips of the disc at right angles to the tilt: length 2 √(1 − s²)
      const s = Math.cos((Math.PI * (i + 0.5)) / steps)
      sum += ((1 - s * s) * Math.cos(ka * s * Math.sin(angleRad)) * 2) / steps
    }
    expect(baffledPistonDb(ka, angleRad)).toBeCloseTo(20 * Math.log10(Math.abs(sum)), 8)
  })

  it('is even in angle, omnidirectional at ka = 0, and 0 dB on axis', () => {
    expect(baffledPistonDb(3, -0.5)).toBe(baffledPistonDb(3, 0.5))
    expect(baffledPistonDb(0, Math.PI / 2)).toBe(0)
    expect(baffledPistonDb(50, 0)).toBe(0)
  })

  it('refuses angles behind the baffle and negative ka', () => {
    expect(() => baffledPistonDb(1, Math.PI / 2 + 0.001)).toThrow(/angleRad/)
    expect(() => baffledPistonDb(-0.1, 0)).toThrow(/ka is -0.1/)
    expect(() => baffledPistonDb(Number.POSITIVE_INFINITY, 0)).toThrow(RangeError)
  })
})

describe('a uniform line', () => {
  it('has the pattern of a sum of many point sources', () => {
    const wavenumber = (2 * Math.PI * 1000) / air.speedOfSoundMps
    let sum = 0
    const count = 20_000
    for (let i = 0; i < count; i++)
      sum += Math.cos(wavenumber * ((i + 0.5) / count - 0.5) * 0.9 * Math.sin(0.7)) / count
    expect(uniformLineDb(0.9, 1000, 0.7, air)).toBeCloseTo(20 * Math.log10(Math.abs(sum)), 6)
  })

  it('is omnidirectional with no length, and refuses angles beyond its end', () => {
    expect(uniformLineDb(0, 1000, 1, air)).toBe(0)
    expect(() => uniformLineDb(1, 1000, 1.6, air)).toThrow(/angleFromBroadsideRad/)
    expect(() => uniformLineDb(-1, 1000, 1, air)).toThrow(/lengthM/)
    expect(() => uniformLineDb(1, 0, 1, air)).toThrow(/frequencyHz/)
  })
})

describe('the horn rule', () => {
  it('halves its frequency for twice the mouth or twice the angle', () => {
    const one = hornControlHz(0.2, Math.PI / 4, air)
    expect(hornControlHz(0.4, Math.PI / 4, air)).toBeCloseTo(one / 2, 9)
    expect(hornControlHz(0.2, Math.PI / 2, air)).toBeCloseTo(one / 2, 9)
  })

  it('refuses a mouth or an angle of 0', () => {
    expect(() => hornControlHz(0, 1, air)).toThrow(/mouthM/)
    expect(() => hornControlHz(1, 0, air)).toThrow(/coverageRad/)
  })
})
