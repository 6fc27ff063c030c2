import { expect, test } from 'vitest'
import { inUnit, lengthText, lengthWords } from '../../../src/words/lengths.ts'
import { setLengthText } from '../../../src/words/set-length.ts'

test('a foot is 0.3048 m by definition', () => {
  expect(inUnit(3.048, 'ft')).toBeCloseTo(10, 12)
  expect(inUnit(3.048, 'm')).toBe(3.048)
})

test('lengths are told to 5 cm or half a foot', () => {
  expect(lengthText(1.83, 'm')).toBe('1.85 m')
  expect(lengthText(2, 'm')).toBe('2 m')
  expect(lengthText(1.83, 'ft')).toBe('6 ft')
  expect(lengthText(2, 'ft')).toBe('6.5 ft')
})

test('a length that was set is told to the centimetre, as its field shows it', () => {
  expect([0.56, 1, 1.04, 1.2, 4].map((lengthM) => setLengthText(lengthM, 'm'))).toEqual([
    '56 cm',
    '1 m',
    '1.04 m',
    '1.2 m',
    '4 m',
  ])
  expect([0.3, 1.2].map((lengthM) => setLengthText(lengthM, 'ft'))).toEqual(['12 in', '3.9 ft'])
})

test('a screen reader hears the unit as a word', () => {
  expect(lengthWords(2.5, 'm')).toBe('2.5 metres')
  expect(lengthWords(3.048, 'ft')).toBe('10 feet')
})
