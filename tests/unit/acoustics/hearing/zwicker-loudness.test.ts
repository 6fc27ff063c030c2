import { describe, expect, it } from 'vitest'
import { loudnessBelowBark } from '../../../../src/acoustics/hearing/specific-loudness.ts'
import { loudnessBands, zwickerLoudness } from '../../../../src/acoustics/hearing/zwicker-loudness.ts'
import { upperLimitBark } from '../../../../src/acoustics/hearing/zwicker-tables.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { randomLevels } from './random-levels.ts'

const silence = new Array<number>(28).fill(-Infinity)
const only = (levelDb: number, nominalHz: number): number[] =>
  loudnessBands.map((band) => (band.nominalHz === nominalHz ? levelDb : -Infinity))
const flat = (levelDb: number): number[] => new Array<number>(28).fill(levelDb)
const plus = (levels: number[], gainDb: number): number[] => levels.map((level) => level + gainDb)

describe('loudness from third-octave levels', () => {
  it('is 0 sone and the least loudness level, 3 phon, for silence', () => {
    for (const levels of [silence, flat(-60), new Float32Array(28).fill(-Infinity)]) {
      const { sones, phons, specific } = zwickerLoudness(levels, 'free')
      expect(sones).toBe(0)
      expect(phons).toBe(3)
      expect(specific).toHaveLength(240)
      expect(specific.every((value) => value === 0)).toBe(true)
    }
  })

  it('rises with level, by about a doubling for 10 dB more of broad noise', () => {
    let before = 0
    for (let levelDb = 20; levelDb <= 120; levelDb += 0.5) {
      const { sones } = zwickerLoudness(flat(levelDb), 'free')
      expect(sones).toBeGreaterThan(before)
      before = sones
    }
    const ratio = zwickerLoudness(flat(80), 'free').sones / zwickerLoudness(flat(70), 'free').sones
    expect(ratio).toBeGreaterThan(1.8)
    expect(ratio).toBeLessThan(2)
  })

  it('never falls when one band is raised', () => {
    const random = seededRandom(3)
    for (let trial = 0; trial < 200; trial++) {
      const levels = randomLevels(random, 20, 100)
      const before = zwickerLoudness(levels, 'free')
      const band = Math.floor(random() * 28)
      levels[band] = (levels[band] as number) + 10 * random()
      const after = zwickerLoudness(levels, 'free')
      expect(after.sones).toBeGreaterThanOrEqual(before.sones)
      after.specific.forEach((value, i) => {
        expect(value).toBeGreaterThanOrEqual((before.specific[i] as number) - 1e-12)
      })
    }
  })

  it('is the area of its pattern: flat within a band, falling above it, nothing below it', () => {
    const { sones, specific } = zwickerLoudness(only(70, 1000), 'free')
    const [lower, upper] = [upperLimitBark[7] as number, upperLimitBark[8] as number]
    const at = (bark: number): number => specific[Math.round(bark * 10) - 1] as number
    expect(at(lower)).toBe(0)
    expect(at(lower + 0.1)).toBeGreaterThan(0)
    expect(at(upper)).toBe(at(lower + 0.1))
    for (let i = Math.round(upper * 10); i < 240; i++) {
      expect(specific[i]).toBeLessThanOrEqual(specific[i - 1] as number)
    }
    expect(Math.abs(loudnessBelowBark(specific, 24) / sones - 1)).toBeLessThan(0.001)
  })

  it('agrees with the area of its samples within 0.1 % for spectra of any shape', () => {
    const random = seededRandom(1)
    for (let trial = 0; trial < 200; trial++) {
      const { sones, specific } = zwickerLoudness(randomLevels(random, 20, 100), 'free')
      expect(Math.abs(loudnessBelowBark(specific, 24) / sones - 1)).toBeLessThan(0.001)
    }
  })

  it('hears low bands together: a second band in a critical band adds as energy, one in another adds loudness', () => {
    const base = only(70, 200)
    const with_ = (nominalHz: number): number[] =>
      base.map((level, i) => (loudnessBands[i]?.nominalHz === nominalHz ? 70 : level))
    const gain = (levels: number[]): number =>
      zwickerLoudness(levels, 'free').sones / zwickerLoudness(base, 'free').sones
    expect(gain(with_(250))).toBeLessThan(1.35)
    expect(gain(with_(2000))).toBeGreaterThan(1.6)
  })

  it('differs in a diffuse field where the head and ears make it differ, and not at 63 Hz', () => {
    const both = (levels: number[]) =>
      (['free', 'diffuse'] as const).map((field) => zwickerLoudness(levels, field).sones)
    const [freeBass, diffuseBass] = both(only(80, 63)) as [number, number]
    expect(diffuseBass).toBe(freeBass)
    const [freeTreble, diffuseTreble] = both(only(60, 10000)) as [number, number]
    expect(diffuseTreble).toBeGreaterThan(freeTreble)
    const [freeMiddle, diffuseMiddle] = both(only(60, 2500)) as [number, number]
    expect(diffuseMiddle).toBeLessThan(freeMiddle)
  })

  it('leaves its input as it is and gives the same answer twice', () => {
    const levels = Object.freeze(plus(flat(60), 5))
    const [first, second] = [zwickerLoudness(levels, 'free'), zwickerLoudness(levels, 'free')]
    expect(second).toEqual(first)
    expect(second.specific).not.toBe(first.specific)
  })

  it('is finite at the top of its range', () => {
    const top = loudnessBands.map(({ nominalHz }) => (nominalHz <= 250 ? 120 : 140))
    const { sones, phons, specific } = zwickerLoudness(top, 'diffuse')
    expect([sones, phons, ...specific].every(Number.isFinite)).toBe(true)
  })

  it('names the band whose level is refused', () => {
    const wrong: [number, number, string][] = [
      [4, Number.NaN, 'thirdOctaveLevelsDb[4] (63 Hz) is NaN; allowed is a finite number up to 120 dB'],
      [10, 120.1, 'thirdOctaveLevelsDb[10] (250 Hz) is 120.1; allowed is a finite number up to 120 dB'],
      [11, 140.1, 'thirdOctaveLevelsDb[11] (315 Hz) is 140.1; allowed is a finite number up to 140 dB'],
      [27, Infinity, 'thirdOctaveLevelsDb[27] (12500 Hz) is Infinity; allowed is a finite number up to 140 dB'],
    ]
    for (const [i, level, message] of wrong) {
      const levels = flat(60)
      levels[i] = level
      expect(() => zwickerLoudness(levels, 'free')).toThrow(RangeError)
      expect(() => zwickerLoudness(levels, 'free')).toThrow(message)
    }
    for (const count of [0, 27, 29]) {
      expect(() => zwickerLoudness(new Array(count).fill(60), 'free')).toThrow(`thirdOctaveLevelsDb.length is ${count}`)
    }
    expect(() => zwickerLoudness(flat(60), 'near' as 'free')).toThrow("field is near; allowed is 'free' or 'diffuse'")
  })
})
