import { describe, expect, it } from 'vitest'
import { matchedLoudnessGains } from '../../../../src/acoustics/hearing/loudness-match.ts'
import { zwickerLoudness } from '../../../../src/acoustics/hearing/zwicker-loudness.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { randomLevels } from './random-levels.ts'

const flat = (levelDb: number): number[] => new Array<number>(28).fill(levelDb)
const phonsOf = (levels: number[], gainDb: number): number =>
  zwickerLoudness(
    levels.map((level) => level + gainDb),
    'free',
  ).phons

/** Level of the third octave 1 kHz at which it alone has a loudness, by halving. */
function tuned(sones: number): number {
  let [lowDb, highDb] = [0, 100]
  for (let step = 0; step < 50; step++) {
    const middleDb = (lowDb + highDb) / 2
    if (zwickerLoudness(flat(-Infinity).with(16, middleDb), 'free').sones < sones) lowDb = middleDb
    else highDb = middleDb
  }
  return lowDb
}

describe('gains for equal loudness', () => {
  it('are the level difference for two sounds of the same spectrum', () => {
    const { firstDb, secondDb } = matchedLoudnessGains(flat(77.5), flat(65), 'free')
    expect(firstDb).toBeCloseTo(-12.5, 4)
    expect(secondDb).toBe(0)
  })

  it('bring spectra of any shape within 0.01 phon of each other, by turning the louder one down', () => {
    const random = seededRandom(2)
    for (let trial = 0; trial < 100; trial++) {
      const [first, second] = [randomLevels(random, 40, 100), randomLevels(random, 30, 90)]
      const gains = matchedLoudnessGains(first, second, 'free')
      expect(Math.max(gains.firstDb, gains.secondDb)).toBe(0)
      const difference = phonsOf(first, gains.firstDb) - phonsOf(second, gains.secondDb)
      expect(Math.abs(difference)).toBeLessThan(0.01)
    }
  })

  it('mirror when the two sounds change places', () => {
    const random = seededRandom(4)
    const [first, second] = [randomLevels(random, 40, 100), randomLevels(random, 30, 70)]
    const forth = matchedLoudnessGains(first, second, 'diffuse')
    const back = matchedLoudnessGains(second, first, 'diffuse')
    expect(back).toEqual({ firstDb: forth.secondDb, secondDb: forth.firstDb })
  })

  it('take the nearer side where the method steps over equality', () => {
    // 25 Hz alone: its correction steps from −32 dB to −29 dB at 77 dB, so no level gives a loudness in between.
    const deep = (levelDb: number): number[] => flat(-Infinity).with(0, levelDb)
    const sonesOf = (levelDb: number): number => zwickerLoudness(deep(levelDb), 'free').sones
    const [below, above] = [sonesOf(77), sonesOf(77 + 1e-6)]
    expect(above).toBeGreaterThan(1.1 * below)
    // Third octave 1 kHz alone, a quarter and three quarters of the way up the step.
    for (const part of [0.25, 0.75]) {
      const wanted = below + part * (above - below)
      const middle = flat(-Infinity).with(16, tuned(wanted))
      const { firstDb, secondDb } = matchedLoudnessGains(deep(90), middle, 'free')
      expect(firstDb).toBeCloseTo(-13, 5)
      expect(secondDb).toBe(0)
      expect(sonesOf(90 + firstDb)).toBeCloseTo(part < 0.5 ? below : above, 6)
    }
  })

  it('are none when a sound cannot be heard', () => {
    const none = { firstDb: 0, secondDb: 0 }
    expect(matchedLoudnessGains(flat(-Infinity), flat(60), 'free')).toEqual(none)
    expect(matchedLoudnessGains(flat(60), flat(-50), 'free')).toEqual(none)
    expect(matchedLoudnessGains(flat(-Infinity), flat(-Infinity), 'free')).toEqual(none)
    expect(matchedLoudnessGains(flat(60), flat(60), 'free')).toEqual(none)
  })

  it('are refused for levels that the loudness method refuses', () => {
    expect(() => matchedLoudnessGains(flat(60), flat(Number.NaN), 'free')).toThrow(RangeError)
    expect(() => matchedLoudnessGains(flat(121), flat(60), 'free')).toThrow('thirdOctaveLevelsDb[0] (25 Hz) is 121')
  })
})
