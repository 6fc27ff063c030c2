import { describe, expect, it } from 'vitest'
import { sharpnessAcum } from '../../../../src/acoustics/hearing/sharpness.ts'
import { loudnessBands, zwickerLoudness } from '../../../../src/acoustics/hearing/zwicker-loudness.ts'

const sharpnessOf = (levels: number[]): number => sharpnessAcum(zwickerLoudness(levels, 'free').specific)

describe('sharpness', () => {
  it('is 0 for silence', () => {
    expect(sharpnessAcum(new Float64Array(240))).toBe(0)
  })

  it('does not change when the whole pattern grows by a factor', () => {
    const { specific } = zwickerLoudness(new Array(28).fill(60), 'free')
    expect(sharpnessAcum(specific.map((value) => 3 * value))).toBeCloseTo(sharpnessAcum(specific), 12)
  })

  it('rises with the frequency of a band, and falls when the treble goes', () => {
    const bandAt = (index: number) => sharpnessOf(loudnessBands.map((_, i) => (i === index ? 60 : -Infinity)))
    let before = 0
    for (let index = 8; index < 28; index++) {
      const sharpness = bandAt(index)
      expect(sharpness).toBeGreaterThanOrEqual(before)
      before = sharpness
    }
    const dull = loudnessBands.map(({ nominalHz }) => (nominalHz > 2000 ? 30 : 60))
    expect(sharpnessOf(dull)).toBeLessThan(0.7 * sharpnessOf(new Array(28).fill(60)))
  })

  it('is refused for what is no pattern', () => {
    expect(() => sharpnessAcum(new Float64Array(239))).toThrow('specific.length is 239')
    expect(() => sharpnessAcum(new Float64Array(240).fill(Number.NaN))).toThrow('specific[0] is NaN')
  })
})
