import { describe, expect, test } from 'vitest'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { wrapFrequencyHz, wrapRulesHz } from '../../../../src/acoustics/radiation/wrap-frequency.ts'

describe('the frequency where a box stops wrapping', () => {
  test('lies between two bands on the parabola through them and the one below, on a logarithmic scale', () => {
    // −2, −4, −8 dB by octaves: −4 − 3u − u² = −6 at u = (√17 − 3)/2 octaves, worked by hand.
    expect(wrapFrequencyHz([100, 200, 400], [-2, -4, -8])).toBeCloseTo(200 * 2 ** ((Math.sqrt(17) - 3) / 2), 9)
    // An even slope is a straight line; so is what two bands give.
    expect(wrapFrequencyHz([100, 200, 400], [-1, -4, -7])).toBeCloseTo(200 * 2 ** (2 / 3), 9)
    // A fall that flattens: −5 − 3u + 2u² = −6, that is (1 − u)(1 − 2u) = 0, of which the lower counts.
    expect(wrapFrequencyHz([100, 200, 400], [0, -5, -6])).toBeCloseTo(200 * Math.SQRT2, 9)
    expect(wrapFrequencyHz([100, 200], [0, -6])).toBeCloseTo(200, 9)
  })

  test('is the first crossing, though the rear comes back higher up', () => {
    expect(wrapFrequencyHz([100, 200, 400, 800], [0, -12, -3, -20])).toBeCloseTo(100 * Math.SQRT2, 9)
  })

  test('says so when it lies outside the bands', () => {
    expect(wrapFrequencyHz([100, 200], [-1, -5.9])).toBe('above')
    expect(wrapFrequencyHz([100, 200], [-7, -9])).toBe('below')
    expect(wrapFrequencyHz([100, 200], [1, 3])).toBe('above')
  })

  test('refuses lists that do not fit, frequencies that do not rise, and levels that are no numbers', () => {
    expect(() => wrapFrequencyHz([100], [0])).toThrow(/frequenciesHz.length is 1/)
    expect(() => wrapFrequencyHz([100, 200], [0])).toThrow(/rearReFrontDb.length is 1/)
    expect(() => wrapFrequencyHz([200, 100], [0, -1])).toThrow(/frequenciesHz\[1\] is 100/)
    expect(() => wrapFrequencyHz([100, 200], [0, Number.NaN])).toThrow(/rearReFrontDb\[1\] is NaN/)
    expect(() => wrapFrequencyHz([100, 200], [0, -9], 0)).toThrow(/dropDb is 0/)
  })
})

test('the two rules of thumb: one wavelength, or one turn of it round the box, differ by π', () => {
  const air = { ...makeAir(), speedOfSoundMps: 340 }
  const { wavelengthIsWidthHz, kaIsOneHz } = wrapRulesHz(0.5, air)
  expect(wavelengthIsWidthHz).toBeCloseTo(680, 9)
  expect((2 * Math.PI * kaIsOneHz * 0.25) / 340).toBeCloseTo(1, 12)
  expect(() => wrapRulesHz(0, air)).toThrow(/widthM is 0/)
})
