import { describe, expect, it } from 'vitest'
import { octaveBands, thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'

describe('third-octave bands', () => {
  const bands = thirdOctaveBands(1, 100000)

  it('run from 1 Hz to 100 kHz, ten a decade, with the labels of IEC 61260-1', () => {
    expect(bands.length).toBe(51)
    expect(thirdOctaveBands(25, 20000).map(({ nominalHz }) => nominalHz)).toEqual([
      25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
      4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
    ])
    expect(thirdOctaveBands(1, 8).map(({ nominalHz }) => nominalHz)).toEqual([1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8])
  })

  it('have index 0 at exactly 1000 Hz and count up from there', () => {
    const middle = bands.find(({ index }) => index === 0)
    expect(middle?.centreHz).toBe(1000)
    expect(middle?.nominalHz).toBe(1000)
    expect(bands.map(({ index }) => index)).toEqual(Array.from({ length: 51 }, (_, i) => i - 30))
  })

  it('meet their neighbours at exactly the same edge, with the centre at the geometric mean', () => {
    for (const [i, band] of bands.entries()) {
      if (i > 0) expect(band.lowerHz).toBe(bands[i - 1]?.upperHz)
      expect(Math.sqrt(band.lowerHz * band.upperHz) / band.centreHz).toBeCloseTo(1, 13)
      expect(band.upperHz / band.lowerHz).toBeCloseTo(10 ** 0.1, 13)
      expect(Math.abs(Math.log10(band.nominalHz / band.centreHz))).toBeLessThan(0.01)
    }
  })

  it('are handed out as copies that a caller may change', () => {
    const mine = thirdOctaveBands(1000, 1000)[0]
    if (mine) mine.centreHz = 1
    expect(thirdOctaveBands(1000, 1000)[0]?.centreHz).toBe(1000)
  })

  it('are refused under an unknown label, listing the known ones, and from above to', () => {
    for (const label of [26, 1001, 0, -25, 125000, Number.NaN, Infinity]) {
      expect(() => thirdOctaveBands(label, 20000)).toThrow(RangeError)
      expect(() => thirdOctaveBands(25, label)).toThrow(
        `toNominalHz is ${label}; allowed is a nominal third-octave frequency`,
      )
    }
    expect(() => thirdOctaveBands(26, 100)).toThrow('25, 31.5, 40')
    expect(() => thirdOctaveBands(100, 80)).toThrow('fromNominalHz is 100 and toNominalHz is 80')
  })
})

describe('octave bands', () => {
  it('have the labels of IEC 61260-1', () => {
    expect(octaveBands(1, 63000).map(({ nominalHz }) => nominalHz)).toEqual([
      1, 2, 4, 8, 16, 31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16000, 31500, 63000,
    ])
  })

  it('hold three third octaves each, edge for edge', () => {
    for (const octave of octaveBands(2, 63000)) {
      const thirds = thirdOctaveBands(1, 100000).filter(({ index }) => Math.abs(index - 3 * octave.index) <= 1)
      expect(thirds.length).toBe(3)
      expect(thirds[0]?.lowerHz).toBe(octave.lowerHz)
      expect(thirds[1]?.centreHz).toBe(octave.centreHz)
      expect(thirds[2]?.upperHz).toBe(octave.upperHz)
    }
  })

  it('are refused under the label of a third octave that is no octave', () => {
    expect(() => octaveBands(40, 1000)).toThrow(
      'fromNominalHz is 40; allowed is a nominal octave frequency in Hz: 1, 2, 4',
    )
    expect(() => octaveBands(1000, 500)).toThrow(RangeError)
  })
})
