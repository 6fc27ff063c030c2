import { describe, expect, it } from 'vitest'
import { contourLevelDb, loudnessLevelPhon } from '../../../../src/acoustics/hearing/equal-loudness.ts'
import { contourTable } from '../../../../src/acoustics/hearing/iso-226-table.ts'

const frequencies = [20, 23.7, 31.5, 40, 63, 90, 100, 250, 440, 1000, 1150, 1600, 3150, 4000, 7000, 12500]
const rising = (values: number[]): boolean => values.every((value, i) => i === 0 || value > (values[i - 1] as number))

describe('equal-loudness contours', () => {
  it('have the level of the loudness level at 1 kHz', () => {
    for (const phon of [0, 2.4, 10, 20, 40, 70, 90, 100]) {
      expect(contourLevelDb(phon, 1000)).toBeCloseTo(phon, 9)
      expect(loudnessLevelPhon(phon, 1000)).toBeCloseTo(phon, 9)
    }
  })

  it('are the threshold of hearing at 2.4 phon', () => {
    for (const { frequencyHz, thresholdDb } of contourTable) {
      expect(contourLevelDb(2.4, frequencyHz)).toBeCloseTo(thresholdDb, 9)
    }
  })

  it('come back as the loudness level, at the table’s frequencies and between them', () => {
    for (const frequencyHz of frequencies) {
      for (let phon = 0; phon <= 100; phon += 2.5) {
        expect(loudnessLevelPhon(contourLevelDb(phon, frequencyHz), frequencyHz)).toBeCloseTo(phon, 9)
      }
    }
  })

  it('rise with the loudness level, and the loudness level rises with the level', () => {
    for (const frequencyHz of frequencies) {
      const phons = Array.from({ length: 101 }, (_, phon) => phon)
      expect(rising(phons.map((phon) => contourLevelDb(phon, frequencyHz)))).toBe(true)
      const bottomDb = contourLevelDb(0, frequencyHz)
      const topDb = contourLevelDb(100, frequencyHz)
      const levels = phons.map((part) => bottomDb + ((topDb - bottomDb) * part) / 100)
      expect(rising(levels.map((level) => loudnessLevelPhon(level, frequencyHz)))).toBe(true)
    }
  })

  it('crowd together in the bass: 10 dB less costs a 50 Hz tone more loudness level than a 1 kHz tone', () => {
    const loss = (frequencyHz: number): number => {
      const levelDb = contourLevelDb(60, frequencyHz)
      return loudnessLevelPhon(levelDb, frequencyHz) - loudnessLevelPhon(levelDb - 10, frequencyHz)
    }
    expect(loss(1000)).toBeCloseTo(10, 9)
    expect(loss(50)).toBeGreaterThan(16)
  })

  it('give 0 phon to what lies below the 0-phon contour', () => {
    for (const frequencyHz of frequencies) {
      const bottomDb = contourLevelDb(0, frequencyHz)
      for (const below of [1e-6, 1, 50, 1000]) expect(loudnessLevelPhon(bottomDb - below, frequencyHz)).toBe(0)
    }
  })

  it('run through the table without a kink: the slope just below a frequency of the table is the slope just above', () => {
    const step = 1e-5
    for (const { frequencyHz } of contourTable.slice(1, -1)) {
      const at = (part: number): number => contourLevelDb(40, frequencyHz * Math.exp(part * step))
      const slopes = [(at(0) - at(-1)) / step, (at(1) - at(0)) / step] as const
      // dB per unit of ln f; the slopes themselves reach 30, and bending makes them differ by some 0.001.
      expect(Math.abs(slopes[1] - slopes[0])).toBeLessThan(0.01)
    }
  })

  it('are refused outside their range', () => {
    for (const frequencyHz of [19.9, 12501, 0, Number.NaN, Infinity]) {
      expect(() => contourLevelDb(40, frequencyHz)).toThrow(RangeError)
      expect(() => loudnessLevelPhon(40, frequencyHz)).toThrow(
        `frequencyHz is ${frequencyHz}; allowed is a finite number from 20 to 12500 Hz`,
      )
    }
    for (const phon of [-0.1, 100.1, Number.NaN, Infinity, -Infinity]) {
      expect(() => contourLevelDb(phon, 1000)).toThrow(`loudnessLevelPhon is ${phon}; allowed is`)
    }
    for (const level of [100.1, Number.NaN, Infinity, -Infinity]) {
      expect(() => loudnessLevelPhon(level, 1000)).toThrow(`levelDb is ${level}; allowed is`)
    }
  })
})
