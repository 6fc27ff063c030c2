import { describe, expect, it } from 'vitest'
import { octaveBands, thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import {
  bandLevelsDb,
  bandLinesHz,
  groupLevelDb,
  weightedLevelDb,
} from '../../../../src/acoustics/field/band-levels.ts'

const bands = thirdOctaveBands(25, 16_000)

describe('band levels', () => {
  it('are the level of a flat response in every band', () => {
    for (const level of bandLevelsDb(() => ({ re: 0, im: 2 }), bands)) expect(level).toBeCloseTo(6.0206, 4)
  })

  it('average the energy of a comb with many teeth to 3.01 dB', () => {
    // |1 + e^{−jωτ}|² has a mean of 2; 0.1 dB for the part of a tooth at the band's ends
    const comb = (frequencyHz: number) => ({
      re: 1 + Math.cos(2 * Math.PI * frequencyHz * 0.05),
      im: -Math.sin(2 * Math.PI * frequencyHz * 0.05),
    })
    const [level] = bandLevelsDb(comb, octaveBands(4000, 4000), 1000)
    expect(Math.abs((level as number) - 3.0103)).toBeLessThan(0.1)
  })

  it('weigh frequencies as pink noise does: |H|² = f over a band gives the logarithmic mean', () => {
    // mean of f over d(ln f) = (upper − lower)/ln(upper/lower); the midpoint rule with 8 lines is within 0.002 dB
    const [band] = octaveBands(1000, 1000)
    if (!band) throw new Error('no band')
    const [level] = bandLevelsDb((frequencyHz) => ({ re: Math.sqrt(frequencyHz), im: 0 }), [band])
    const mean = (band.upperHz - band.lowerHz) / Math.log(band.upperHz / band.lowerHz)
    expect(Math.abs((level as number) - 10 * Math.log10(mean))).toBeLessThan(0.005)
  })

  it('take lines inside the band only, evenly on a logarithmic scale', () => {
    const [band] = thirdOctaveBands(100, 100)
    if (!band) throw new Error('no band')
    const lines = bandLinesHz(band, 3)
    expect(lines[1]).toBeCloseTo(band.centreHz, 9)
    expect((lines[2] as number) / (lines[1] as number)).toBeCloseTo((lines[1] as number) / (lines[0] as number), 12)
    expect(lines[0]).toBeGreaterThan(band.lowerHz)
    expect(lines[2]).toBeLessThan(band.upperHz)
  })

  it('of a silent place are minus infinity', () => {
    expect(bandLevelsDb(() => ({ re: 0, im: 0 }), bands)[0]).toBe(-Infinity)
    expect(
      groupLevelDb(
        bandLevelsDb(() => ({ re: 0, im: 0 }), bands),
        bands,
        40,
        160,
      ),
    ).toBe(-Infinity)
  })

  it('refuse no lines and values that are not numbers', () => {
    expect(() => bandLevelsDb(() => ({ re: 1, im: 0 }), bands, 0)).toThrow(/linesPerBand/)
    expect(() => bandLevelsDb(() => ({ re: Number.NaN, im: 0 }), bands)).toThrow(RangeError)
  })
})

describe('levels of several bands', () => {
  it('add by energy: seven equal bands from 40 to 160 Hz are 8.45 dB above one', () => {
    const levels = bands.map(() => -3)
    expect(groupLevelDb(levels, bands, 40, 160)).toBeCloseTo(-3 + 10 * Math.log10(7), 12)
  })

  it('are weighted at the band’s centre', () => {
    const levels = bands.map(() => 0)
    expect(weightedLevelDb(levels, bands, () => -10)).toBeCloseTo(-10 + 10 * Math.log10(bands.length), 12)
    const only1k = (frequencyHz: number) => (frequencyHz === 1000 ? 0 : -Infinity)
    expect(weightedLevelDb(levels, bands, only1k)).toBeCloseTo(0, 12)
  })

  it('refuse ranges without a band and lists of unequal length', () => {
    expect(() =>
      groupLevelDb(
        bands.map(() => 0),
        bands,
        41,
        42,
      ),
    ).toThrow(/no band/)
    expect(() => groupLevelDb([0], bands, 40, 160)).toThrow(/levelsDb.length/)
    expect(() =>
      groupLevelDb(
        bands.map(() => 0),
        bands,
        160,
        40,
      ),
    ).toThrow(/toHz/)
    expect(() => weightedLevelDb([], [], () => 0)).toThrow(/bands.length/)
  })
})
