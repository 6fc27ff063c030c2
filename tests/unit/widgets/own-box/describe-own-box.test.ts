import { describe, expect, test } from 'vitest'
import type { OwnBoxBand, WrapAnswer } from '../../../../src/engine/questions/own-box/own-box-terms.ts'
import {
  bandSentence,
  estimateFromHz,
  offWords,
  progressWords,
  wrapSentence,
  wrapTitle,
} from '../../../../src/widgets/own-box/describe-own-box.ts'

const wrap: WrapAnswer = { computedHz: 428, settled: true, wavelengthIsWidthHz: 1072.5, kaIsOneHz: 341.4 }
const band = (change: Partial<OwnBoxBand>): OwnBoxBand => ({
  nominalHz: 1000,
  model: 'boundary-elements',
  frontGainDb: 6,
  sideDb: -8.4,
  rearDb: -14.2,
  roundDb: [],
  directivityIndexDb: 7.4,
  estimatedErrorDb: 0.21,
  unknowns: 1000,
  ...change,
})

describe('the own box in words', () => {
  test('the limit, and how far off the rules of thumb are', () => {
    expect(wrapTitle(wrap)).toBe('This box stops wrapping its sound round at about 430 Hz')
    expect(wrapSentence(wrap)).toBe(
      // By the numbers as they are written: 1100/430 and 340/430.
      'Below about 430 Hz the rear is less than 6 dB under the front. The rule “wavelength = box width” says 1.1 kHz, 2.6 times too high; the rule “ka = 1” says 340 Hz, 20 % too low.',
    )
  })

  test('a box whose limit lies outside the bands is told so, and no rule is judged', () => {
    expect(wrapTitle({ ...wrap, computedHz: 'above' })).toContain('Up to 2 kHz this box never')
    expect(wrapSentence({ ...wrap, computedHz: 'above' })).toContain('Nowhere from 31.5 Hz to 2 kHz')
    expect(wrapTitle({ ...wrap, computedHz: 'below' })).toContain('even at 31.5 Hz')
    expect(wrapSentence({ ...wrap, computedHz: 'below' })).not.toContain('too')
  })

  test('as long as a hard ball has a say in the limit it is a first estimate, and no rule is judged by it', () => {
    const first = { ...wrap, settled: false }
    expect(wrapTitle(first, true)).toBe('This box stops wrapping its sound round at about 400 Hz, still solving')
    expect(wrapSentence(first, true)).toBe(
      'First estimate, still being solved: below about 400 Hz the rear is less than 6 dB under the front. The rule “wavelength = box width” says 1.1 kHz, the rule “ka = 1” says 340 Hz.',
    )
    expect(wrapTitle(first)).toMatch(/: first estimate, not solved$/)
    expect(wrapSentence({ ...first, computedHz: 'above' }, true)).toMatch(
      /^First estimate, still being solved: nowhere/,
    )
    expect(wrapTitle(wrap, true)).toBe(wrapTitle(wrap))
    expect(wrapSentence(wrap, true)).toBe(wrapSentence(wrap))
  })

  test.each([
    [1, 'right within 5 %'],
    [1.04, 'right within 5 %'],
    [1.21, '20 % too high'],
    [0.7, '30 % too low'],
    [2.52, '2.5 times too high'],
    [0.4, '2.5 times too low'],
    [31, '31 times too high'],
  ])('rule over computed %d is %s', (ratio, words) => {
    expect(offWords(ratio)).toBe(words)
  })

  test('a band: whole decibels, and nulls are not told to the decibel', () => {
    expect(bandSentence(band({}))).toBe(
      'At 1 kHz the level beside is 8 dB under the front and behind 14 dB under the front. The directivity index is 7 dB.',
    )
    expect(bandSentence(band({ rearDb: -55, sideDb: 0.3 }))).toContain(
      'beside is as high as in front and behind more than 40 dB under the front',
    )
    expect(bandSentence(band({ rearDb: 2.2, directivityIndexDb: -1.6 }))).toContain('behind 2 dB over the front')
    expect(bandSentence(band({ directivityIndexDb: -1.6 }))).toContain('index is −2 dB')
    expect(bandSentence(band({ model: 'closed-form' }))).toMatch(
      /^At 1 kHz, for a hard ball of the same surface, the level/,
    )
  })

  test('progress counts solved bands and gives the worst error estimate, never less than 0.1 dB', () => {
    const ball = band({ model: 'closed-form', estimatedErrorDb: null })
    expect(progressWords([ball, ball])).toContain('0 of 2 bands solved.')
    expect(progressWords([band({}), ball])).toBe(
      '1 of 2 bands solved, by the solver’s own estimate within 0.3 dB; the others are still the closed form of a hard ball.',
    )
    expect(progressWords([band({ estimatedErrorDb: 0.003 }), band({ estimatedErrorDb: 0 })])).toBe(
      'All 2 bands solved, by the solver’s own estimate within 0.1 dB.',
    )
    const high = band({ nominalHz: 1600, model: 'high-frequency', estimatedErrorDb: 9 })
    expect(progressWords([band({}), high])).toBe(
      'All 2 bands solved, by the solver’s own estimate within 0.3 dB. This box is large: from 1.6 kHz up a high-frequency model stands in, and the rear is an estimate, for boxes like the demo ones within 3 dB r.m.s.',
    )
    expect(estimateFromHz([band({}), high])).toBe(1600)
    expect(estimateFromHz([band({})])).toBe(Number.POSITIVE_INFINITY)
  })
})
