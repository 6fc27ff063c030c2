import { expect, test } from 'vitest'
import { turnedDown } from '../../../../src/engine/questions/ear/ear-facts.ts'
import { guessLoudnessVerdict, losesMore } from '../../../../src/widgets/guess-loudness/describe-guess-loudness.ts'
import { partText } from '../../../../src/words/loudness.ts'

const low = turnedDown(50, 60, 10)
const high = turnedDown(1000, 60, 10)

test('the bass loses more, and the verdict has both tones', () => {
  expect(losesMore(low, high)).toBe('low')
  expect(losesMore(high, low)).toBe('high')
  expect(losesMore(high, high)).toBe('same')
  const words = guessLoudnessVerdict('low', low, high)
  expect(words).toMatch(/^Right\. 50 Hz goes from 4\.0 to 1\.3 sones/)
  expect(words).toContain('1 kHz goes from 4.0 to 2.0 sones: half of its loudness is left.')
  expect(guessLoudnessVerdict('same', low, high)).toMatch(/^Not so\. /)
  expect(guessLoudnessVerdict('none', low, high)).toMatch(/^50 Hz/)
})

test('parts are told as the nearest plain fraction, with "about" when they are not that', () => {
  expect(partText(0.5)).toBe('half')
  expect(partText(0.318)).toBe('a third')
  expect(partText(0.29)).toBe('about a quarter')
})
