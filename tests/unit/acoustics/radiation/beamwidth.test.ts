import { describe, expect, it } from 'vitest'
import { beamwidthRad } from '../../../../src/acoustics/radiation/beamwidth.ts'

const dipole = (angleRad: number) => 20 * Math.log10(Math.abs(Math.cos(angleRad)))

describe('the beamwidth of a pattern', () => {
  it('of a figure of eight is 120° at half the pressure and 90° at half the power', () => {
    expect(beamwidthRad(dipole)).toBeCloseTo((2 * Math.PI) / 3, 10)
    expect(beamwidthRad(dipole, { dropDb: 10 * Math.log10(2) })).toBeCloseTo(Math.PI / 2, 10)
  })

  it('is undefined where no direction is down: a source that radiates all round', () => {
    expect(beamwidthRad(() => 0)).toBeUndefined()
    expect(beamwidthRad((angleRad) => -5 * Math.sin(Math.abs(angleRad)))).toBeUndefined()
  })

  it('is undefined where only one side is down', () => {
    expect(beamwidthRad((angleRad) => -10 * Math.max(0, angleRad))).toBeUndefined()
    expect(beamwidthRad((angleRad) => -10 * Math.max(0, -angleRad))).toBeUndefined()
  })

  it('adds the two sides of a lopsided beam', () => {
    const levelDb = (angleRad: number) => (angleRad > 0 ? -12 * angleRad : 24 * angleRad)
    expect(beamwidthRad(levelDb, { dropDb: 6 })).toBeCloseTo(0.5 + 0.25, 10)
    expect(beamwidthRad(levelDb, { dropDb: 6, symmetric: true })).toBeCloseTo(1, 10)
  })

  it('ends at the first fall, whatever lobes follow', () => {
    const lobes = (angleRad: number) => 20 * Math.log10(Math.abs(Math.cos(3 * angleRad)))
    expect(beamwidthRad(lobes)).toBeCloseTo((2 * Math.PI) / 9, 10)
  })

  it('takes a null for a level', () => {
    expect(beamwidthRad((angleRad) => (Math.abs(angleRad) < 0.5 ? 0 : Number.NEGATIVE_INFINITY))).toBeCloseTo(1, 10)
  })

  it('looks no farther than the limit, and as far as it', () => {
    const slope = (angleRad: number) => -2 * Math.abs(angleRad)
    expect(beamwidthRad(slope, { dropDb: 4 })).toBeUndefined()
    expect(beamwidthRad(slope, { dropDb: 4, limitRad: Math.PI })).toBeCloseTo(4, 10)
    expect(beamwidthRad(slope, { dropDb: 2, limitRad: 1 })).toBeCloseTo(2, 10)
  })

  it('refuses levels that are no numbers and options out of range', () => {
    expect(() => beamwidthRad(() => Number.NaN)).toThrow(/level on the axis is NaN/)
    expect(() => beamwidthRad((angleRad) => (angleRad === 0 ? 0 : Number.NaN))).toThrow(/is NaN/)
    expect(() => beamwidthRad(() => Number.NEGATIVE_INFINITY)).toThrow(/level on the axis/)
    expect(() => beamwidthRad(dipole, { dropDb: 0 })).toThrow(/dropDb is 0/)
    expect(() => beamwidthRad(dipole, { limitRad: 4 })).toThrow(/limitRad is 4/)
    expect(() => beamwidthRad(dipole, { stepRad: -1 })).toThrow(/stepRad is -1/)
  })
})
