import { describe, expect, it } from 'vitest'
import { bassShare, loudnessBelowHz } from '../../../../src/acoustics/hearing/bass-share.ts'
import { loudnessBark } from '../../../../src/acoustics/hearing/loudness-bark.ts'
import { loudnessBands, zwickerLoudness } from '../../../../src/acoustics/hearing/zwicker-loudness.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { randomLevels } from './random-levels.ts'

const levelsWhere = (within: (nominalHz: number) => boolean): number[] =>
  loudnessBands.map(({ nominalHz }) => (within(nominalHz) ? 70 : -Infinity))

describe('critical-band rate of the loudness method', () => {
  it('has the limits of the method at the edges of its bands', () => {
    for (const [index, bark] of [
      [5, 0.9],
      [8, 1.8],
      [10, 2.8],
      [16, 9.2],
      [27, 23.6],
    ] as const) {
      expect(loudnessBark(loudnessBands[index]?.upperHz as number)).toBeCloseTo(bark, 12)
    }
    expect(loudnessBark(0)).toBe(0)
    for (const endHz of [15500, 16000, 20000]) expect(loudnessBark(endHz)).toBe(24)
  })

  it('rises with frequency without a step', () => {
    let before = 0
    for (let frequencyHz = 1; frequencyHz < 15500; frequencyHz++) {
      const bark = loudnessBark(frequencyHz)
      expect(bark).toBeGreaterThan(before)
      expect(bark - before).toBeLessThan(0.0103)
      before = bark
    }
  })

  it('is refused outside its range', () => {
    for (const frequencyHz of [-1, 20001, Number.NaN]) {
      expect(() => loudnessBark(frequencyHz)).toThrow(`frequencyHz is ${frequencyHz}; allowed is`)
    }
  })
})

describe('bass share', () => {
  it('is 0 for silence and for sound without bass', () => {
    expect(bassShare(new Float64Array(240))).toBe(0)
    expect(
      bassShare(
        zwickerLoudness(
          levelsWhere((f) => f >= 315),
          'free',
        ).specific,
      ),
    ).toBe(0)
  })

  it('is most, not all, of bass alone, because its upper slope counts as not bass', () => {
    const share = bassShare(
      zwickerLoudness(
        levelsWhere((f) => f <= 160),
        'free',
      ).specific,
    )
    expect(share).toBeGreaterThan(0.5)
    expect(share).toBeLessThan(1)
  })

  it('rises when the treble goes, and the loudness of the bass does not', () => {
    const whole = zwickerLoudness(
      levelsWhere(() => true),
      'free',
    )
    const dull = zwickerLoudness(
      levelsWhere((f) => f <= 1000),
      'free',
    )
    expect(bassShare(dull.specific)).toBeGreaterThan(1.4 * bassShare(whole.specific))
    expect(Math.abs(loudnessBelowHz(dull) / loudnessBelowHz(whole) - 1)).toBeLessThan(0.001)
  })

  it('rises with its limit from 0 to 1, and the loudness below with it', () => {
    const random = seededRandom(5)
    for (let trial = 0; trial < 20; trial++) {
      const loudness = zwickerLoudness(randomLevels(random, 20, 100), 'free')
      expect(bassShare(loudness.specific, 0)).toBe(0)
      for (const endHz of [15500, 20000]) {
        expect(bassShare(loudness.specific, endHz)).toBe(1)
        expect(loudnessBelowHz(loudness, endHz)).toBe(loudness.sones)
      }
      let before = 0
      for (let upToHz = 10; upToHz <= 20000; upToHz *= 1.05) {
        const share = bassShare(loudness.specific, upToHz)
        expect(share).toBeGreaterThanOrEqual(before)
        expect(share).toBeLessThanOrEqual(1)
        expect(loudnessBelowHz(loudness, upToHz)).toBe(share * loudness.sones)
        before = share
      }
    }
  })

  it('takes 250 Hz unless told otherwise', () => {
    const { specific } = zwickerLoudness(
      levelsWhere(() => true),
      'free',
    )
    expect(bassShare(specific)).toBe(bassShare(specific, 250))
    expect(bassShare(specific)).toBeGreaterThan(bassShare(specific, 240))
    expect(bassShare(specific)).toBeLessThan(bassShare(specific, 260))
  })

  it('takes the pattern’s own area: a flat pattern has the share of the scale', () => {
    expect(bassShare(new Float64Array(240).fill(2))).toBeCloseTo(loudnessBark(250) / 24, 12)
  })

  it('is refused for what is no pattern, and outside the range of its limit', () => {
    expect(() => bassShare(new Float64Array(24))).toThrow('specific.length is 24')
    for (const value of [-1, Number.NaN, Infinity]) {
      expect(() => bassShare(new Float64Array(240).fill(value, 7))).toThrow(`specific[7] is ${value}; allowed is`)
    }
    for (const upToHz of [-1, 20001, Number.NaN]) {
      expect(() => bassShare(new Float64Array(240), upToHz)).toThrow(RangeError)
    }
  })
})
