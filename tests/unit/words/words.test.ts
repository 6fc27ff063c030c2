import { describe, expect, test } from 'vitest'
import { directionWords, placeWord } from '../../../src/words/directions.ts'
import {
  aboutFrequencyText,
  bandText,
  dipFrequencyText,
  fineFrequencyText,
  frequencyText,
  octaveWords,
} from '../../../src/words/frequencies.ts'
import {
  downWords,
  levelRangeText,
  levelText,
  moreWords,
  quieterWords,
  signedLevelText,
  tenthsText,
  underWords,
} from '../../../src/words/levels.ts'
import { fractionWords, partText, sonesText, timesAsLoud, toneSonesText } from '../../../src/words/loudness.ts'
import {
  chanceText,
  countText,
  decimalText,
  held,
  listText,
  percentText,
  roundText,
  shortText,
  wholeText,
} from '../../../src/words/numbers.ts'
import { tenthsDownWords } from '../../../src/words/tenths.ts'
import { delayText, durationText, shortDelayText } from '../../../src/words/times.ts'

describe('numbers', () => {
  test('a negative number has a true minus sign, zero has none', () => {
    expect([-3.4, -0.4, 2.5].map(wholeText)).toEqual(['−3', '0', '3'])
    expect([-0.04, -0.05001, 12].map((value) => decimalText(value, 1))).toEqual(['0.0', '−0.1', '12.0'])
    expect([-0.04, -2, 2.55].map((value) => shortText(value, 1))).toEqual(['0', '−2', '2.5'])
    expect([0.0346, -23.4, 7].map((value) => roundText(value, 2))).toEqual(['0.035', '−23', '7'])
  })

  test('shares and chances are whole percent, and nothing is certain that is not', () => {
    expect(percentText(0.253)).toBe('25 %')
    expect([0, 0.004, 0.04, 0.996, 1].map(chanceText)).toEqual([
      'less than 1 %',
      'less than 1 %',
      '4 %',
      'more than 99 %',
      '100 %',
    ])
  })

  test('small counts are words, lists end in “and”', () => {
    expect([0, 1, 6, 7].map(countText)).toEqual(['no', 'one', 'six', '7'])
    expect([listText([]), listText(['a']), listText(['a', 'b']), listText(['a', 'b', 'c'])]).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ])
    expect(held('3 dB down')).toBe('3\u00a0dB down')
    expect(held('4 ft 5 in of 20 inches')).toBe('4\u00a0ft 5\u00a0in of 20 inches')
  })
})

describe('levels', () => {
  test('a difference is told by its size and its way, rounded', () => {
    expect([-3.2, 0.6, 0.4].map(quieterWords)).toEqual(['3 dB quieter', '1 dB louder', 'as loud'])
    expect([-3.2, 0.6, -0.4].map((level) => downWords(level))).toEqual(['3 dB down', '1 dB up', 'unchanged'])
    expect(downWords(0.2, 'as in front')).toBe('as in front')
    expect([-1.57, 0.69, -0.04].map((level) => tenthsDownWords(level))).toEqual([
      '1.6 dB down',
      '0.7 dB up',
      'unchanged',
    ])
    expect([-8, 2, 0].map((level) => underWords(level, 'as strong'))).toEqual([
      '8 dB under the front',
      '2 dB over the front',
      'as strong',
    ])
    expect([18, -4, 0].map((level) => moreWords(level))).toEqual(['18 dB more', '4 dB less', 'the same level'])
  })

  test('levels, signed levels and ranges carry their unit, table cells do not', () => {
    expect(levelText(-2.7)).toBe('−3 dB')
    expect([2, -1.5, 0, -0.04].map((level) => signedLevelText(level, 1))).toEqual(['+2 dB', '−1.5 dB', '0 dB', '0 dB'])
    expect(levelRangeText({ least: -1.2, most: 2.6 })).toBe('−1 to 3 dB')
    expect(levelRangeText({ least: 1.6, most: 2.4 })).toBe('2 dB')
    expect(tenthsText(-3.24)).toBe('−3.2')
  })
})

describe('loudness', () => {
  test('sones and what they compare to', () => {
    expect([0.44, 9.94, 9.96, 34.4].map(sonesText)).toEqual(['0.4', '9.9', '10', '34'])
    expect([0.004, 0.051, 1.34].map(toneSonesText)).toEqual(['under 0.01', '0.051', '1.3'])
    expect([1.03, 0.44, 2.34].map(timesAsLoud)).toEqual([
      'as loud as',
      'about 0.4 times as loud as',
      'about 2.3 times as loud as',
    ])
  })

  test('shares as plain fractions', () => {
    expect([0.5, 0.34, 0.4, 0.06, 0.004].map(fractionWords)).toEqual([
      'half',
      'about a third',
      'about 40 %',
      'about 6 %',
      'less than 1 %',
    ])
    expect([0.25, 0.7, 0.9].map(partText)).toEqual(['a quarter', 'about two thirds', 'about three quarters'])
  })
})

describe('frequencies', () => {
  test('nominal and computed ones', () => {
    expect([31.5, 1250].map(frequencyText)).toEqual(['31.5 Hz', '1.25 kHz'])
    expect(aboutFrequencyText(433)).toBe('430 Hz')
    expect(aboutFrequencyText(2134, 3)).toBe('2.13 kHz')
    expect([33.4, 163].map(dipFrequencyText)).toEqual(['33 Hz', '165 Hz'])
    expect(fineFrequencyText(41.27)).toBe('41.3 Hz')
    expect(bandText({ fromHz: 37.6, toHz: 92.4 })).toBe('38 to 92 Hz')
  })

  test('octaves by thirds', () => {
    expect([1, 2 ** (1 / 3), 2 ** (-2 / 3), 2, 2 ** (4 / 3)].map(octaveWords)).toEqual([
      'no octave',
      'a third of an octave',
      'two thirds of an octave',
      'one octave',
      '1⅓ octaves',
    ])
  })
})

test('times', () => {
  expect([0.004, 0.00393].map(delayText)).toEqual(['4.0 ms', '3.9 ms'])
  expect([0.004, 0.00393].map(shortDelayText)).toEqual(['4 ms', '3.9 ms'])
  expect([8, 2.52, 1.8, 1, 0.25, 0.079, 0.002].map(durationText)).toEqual([
    '8 hours',
    '2.5 hours',
    '1.5 hours',
    '1 hour',
    '15 minutes',
    '4 minutes',
    'less than a minute',
  ])
})

test('directions, to either side alike', () => {
  expect([0, -45, 90, -135, 180].map(directionWords)).toEqual([
    'in front of',
    'in front and to the side of',
    'beside',
    'behind and to the side of',
    'behind',
  ])
  expect([67.5, -90, 113].map(placeWord)).toEqual(['front', 'side', 'behind'])
})
