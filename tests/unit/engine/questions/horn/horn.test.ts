import { describe, expect, test } from 'vitest'
import { makeAir } from '../../../../../src/acoustics/index.ts'
import { realDft } from '../../../../../src/acoustics/signals/dft.ts'
import {
  bassHornHz,
  frequencyOfMouthHz,
  hornAnswer,
  hornCurve,
  hornResponses,
  patternDeg,
  widestAllowedDeg,
} from '../../../../../src/engine/questions/horn/horn.ts'
import { spectrumBands } from '../../../../../src/engine/scene/third-octaves.ts'

const demo = { mouthM: 0.26, coverageDeg: 90, frequencyHz: 500 }

describe('what a horn holds', () => {
  test('below where it lets go the beam is always wider than allowed, at once above it is not', () => {
    for (const coverageDeg of [40, 60, 90, 120]) {
      const { points, letsGoAt } = hornCurve(coverageDeg)
      const limit = widestAllowedDeg(coverageDeg)
      const below = points.filter((point) => point.mouthOverWavelength < letsGoAt)
      expect(below.length).toBeGreaterThan(20)
      for (const { beamwidthDeg } of below) expect(beamwidthDeg ?? 180).toBeGreaterThan(limit)
      const letsGoHz = frequencyOfMouthHz(letsGoAt, 1)
      expect(hornAnswer({ mouthM: 1, coverageDeg, frequencyHz: letsGoHz * 1.0001 }).beamwidthDeg).toBeLessThan(limit)
      expect(hornAnswer({ mouthM: 1, coverageDeg, frequencyHz: letsGoHz * 0.9999 }).beamwidthDeg).toBeGreaterThan(limit)
    }
  })

  test('the widest allowed is a fifth more than nominal, and 10° more at least', () => {
    expect(widestAllowedDeg(90)).toBe(108)
    expect(widestAllowedDeg(40)).toBe(50)
  })

  test('twice the mouth lets go an octave lower, and the mouth for the bass lets go at the bass', () => {
    const one = hornAnswer(demo)
    const two = hornAnswer({ ...demo, mouthM: 0.52 })
    expect(two.letsGoHz * 2).toBeCloseTo(one.letsGoHz, 9)
    const bassHorn = hornAnswer({ ...demo, mouthM: one.bassMouthM })
    expect(bassHorn.letsGoHz).toBeCloseTo(bassHornHz, 9)
    expect(hornAnswer({ ...demo, mouthM: one.bassMouthByRuleM }).ruleHz).toBeCloseTo(bassHornHz, 9)
  })

  test('at long waves no direction in front is 6 dB down; at short ones the beam is the nominal angle', () => {
    expect(hornAnswer({ ...demo, frequencyHz: 63 }).beamwidthDeg).toBeNull()
    const { points } = hornCurve(90)
    const settled = points.filter((point) => point.mouthOverWavelength > 60)
    for (const { beamwidthDeg } of settled) expect(Math.abs((beamwidthDeg ?? 180) - 90)).toBeLessThan(3)
  })

  test('just above where it lets go the beam is narrower than the label at first', () => {
    const { waist, letsGoAt } = hornCurve(90)
    expect(waist?.beamwidthDeg).toBeLessThan(81)
    expect(waist?.mouthOverWavelength).toBeGreaterThan(letsGoAt)
    expect(hornCurve(120).waist).toBeNull()
  })

  test('the pattern is 0 dB straight ahead, even, and meets the third octaves at 90°', () => {
    const { patternDb, besideDb } = hornAnswer(demo)
    expect(patternDb).toHaveLength(patternDeg.length)
    expect(patternDb[patternDeg.indexOf(0)]).toBeCloseTo(0, 12)
    expect(patternDb[0]).toBe(patternDb.at(-1))
    const band = spectrumBands.findIndex(({ nominalHz }) => nominalHz === 500)
    expect(besideDb[band]).toBeCloseTo(patternDb[0] ?? Number.NaN, 0)
  })

  test('refuses a frequency or a mouth out of range', () => {
    expect(() => hornAnswer({ ...demo, frequencyHz: Number.NaN })).toThrow(RangeError)
    expect(() => hornAnswer({ ...demo, mouthM: -1 })).toThrow(/mouth/)
  })
})

describe.each([0.2, 0.9, 6])('the sound of a %s m mouth', (mouthM) => {
  const sampleRateHz = 48000
  const length = 8192
  const { here, front } = hornResponses({ mouthM, coverageDeg: 90, sampleRateHz, length })
  const levelDb = (response: Float32Array, line: number) => {
    const { re, im } = realDft(response)
    return 20 * Math.log10(Math.hypot(re[line] ?? 0, im[line] ?? 0))
  }

  test('has the levels of the pattern at 90°, and a flat front', () => {
    for (const line of [11, 43, 170, 683, 1365]) {
      const frequencyHz = (line * sampleRateHz) / length
      const expected = hornAnswer({ mouthM, coverageDeg: 90, frequencyHz }).patternDb[0]
      expect(levelDb(front, line)).toBeCloseTo(0, 3)
      // Single precision of the samples.
      expect(levelDb(here, line)).toBeCloseTo(expected ?? Number.NaN, 2)
    }
  })

  test('begins after its start and has died away before its end', () => {
    const peak = Math.max(...here.map(Math.abs))
    const leadSamples = 0.004 * sampleRateHz
    expect(Math.max(...here.subarray(0, leadSamples).map(Math.abs))).toBeLessThan(0.02 * peak)
    expect(Math.max(...here.subarray(length - 1000).map(Math.abs))).toBeLessThan(0.02 * peak)
  })

  test('starts both places together but for the way across half the mouth', () => {
    const first = front.findIndex((sample) => Math.abs(sample) > 0.5)
    expect(first / sampleRateHz).toBeCloseTo(0.006 + mouthM / 2 / makeAir().speedOfSoundMps, 3)
  })
})
