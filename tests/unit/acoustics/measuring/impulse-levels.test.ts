import { describe, expect, test } from 'vitest'
import { fractionalOctaveBands } from '../../../../src/acoustics/bands/fractional-octave-bands.ts'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { impulseLevelsDb } from '../../../../src/acoustics/measuring/impulse-levels.ts'

const sampleRateHz = 48000

describe('levels of an impulse response', () => {
  test('are 0 dB for one sample of 1, and 6 dB for one of 2', () => {
    for (const [gain, levelDb] of [
      [1, 0],
      [2, 20 * Math.log10(2)],
    ] as const) {
      const levels = impulseLevelsDb([0, gain, 0], sampleRateHz, thirdOctaveBands(25, 16000))
      for (const level of levels) expect(level).toBeCloseTo(levelDb, 9)
    }
  })

  test('of two equal arrivals add up to 2 (1 + cos) at the middle of a narrow band', () => {
    const response = new Float64Array(4096)
    response[0] = 1
    response[480] = 1
    for (const band of fractionalOctaveBands(24, 100, 300)) {
      const expected = 10 * Math.log10(2 + 2 * Math.cos((2 * Math.PI * band.centreHz) / 100))
      if (expected < -3) continue
      expect(impulseLevelsDb(response, sampleRateHz, [band])[0]).toBeCloseTo(expected, 0)
    }
  })

  test('are −∞ for silence, and refused out of range', () => {
    expect(impulseLevelsDb([0, 0], sampleRateHz, thirdOctaveBands(1000, 1000))[0]).toBe(-Infinity)
    expect(() => impulseLevelsDb([1, 0], 8000, thirdOctaveBands(8000, 8000))).toThrow(/half the sample rate/)
    expect(() => impulseLevelsDb([1, Number.NaN], sampleRateHz, thirdOctaveBands(1000, 1000))).toThrow(/response\[1\]/)
    expect(() => impulseLevelsDb([1], sampleRateHz, [])).toThrow(/response.length is 1/)
  })
})

describe('bands of a fraction of an octave', () => {
  test('are the third octaves of the standard for three to the octave', () => {
    const own = fractionalOctaveBands(3, 25, 16000)
    const standard = thirdOctaveBands(25, 16000)
    // 25 Hz by name is 25.1 Hz, 16 kHz is 15.8 kHz.
    expect(own).toHaveLength(standard.length)
    for (const [i, band] of own.entries()) {
      for (const edge of ['centreHz', 'lowerHz', 'upperHz'] as const) {
        expect(band[edge] / (standard[i]?.[edge] as number)).toBeCloseTo(1, 9)
      }
    }
  })

  test('have 1 kHz on an edge for an even number to the octave, and share their edges', () => {
    const fine = fractionalOctaveBands(24, 40, 16000)
    expect(fine.some(({ lowerHz }) => Math.abs(lowerHz - 1000) < 1e-6)).toBe(true)
    for (const [i, { lowerHz }] of fine.entries()) {
      if (i > 0) expect(lowerHz).toBeCloseTo(fine[i - 1]?.upperHz as number, 6)
    }
    expect(fine[24]?.centreHz).toBeCloseTo((fine[0]?.centreHz as number) * 10 ** 0.3, 6)
    expect(fine[0]?.centreHz).toBeGreaterThanOrEqual(40)
    expect(fine.at(-1)?.centreHz).toBeLessThanOrEqual(16000)
  })

  test('are refused out of range', () => {
    expect(() => fractionalOctaveBands(0, 40, 80)).toThrow(/fraction is 0/)
    expect(() => fractionalOctaveBands(3, 80, 40)).toThrow(/fromHz is 80/)
  })
})
