import { expect, test } from 'vitest'
import {
  exposureSentence,
  heardRows,
  loudnessSentence,
  setLevelSentence,
} from '../../../../src/widgets/heard/describe-heard.ts'
import { sonesText } from '../../../../src/words/loudness.ts'

const heard = (sones: number, bassSones: number) => ({
  aWeightedDb: 74.1,
  cWeightedDb: 84.2,
  sones,
  phons: 90.7,
  bassSones,
  bassShare: sones === 0 ? 0 : bassSones / sones,
})

test('sones are told with as many digits as can be used', () => {
  expect([33.7, 9.94, 9.96, 0.42, 0].map(sonesText)).toEqual(['34', '9.9', '10', '0.4', '0.0'])
})

test('the table has both places in every row', () => {
  const rows = heardRows({ here: heard(33.7, 8.5), front: heard(88, 9.9) })
  expect(rows.find(({ name }) => name.includes('share'))).toMatchObject({ here: '25 %', front: '11 %' })
  expect(rows).toHaveLength(6)
})

test('loudness is compared whole and in the bass, and silence is not divided by', () => {
  expect(loudnessSentence({ here: heard(33.7, 8.5), front: heard(88, 9.9) })).toBe(
    'To the ear it is about 0.4 times as loud as in front; its bass alone is about 0.9 times as loud as the bass there.',
  )
  expect(loudnessSentence({ here: heard(88, 13.4), front: heard(88, 9.9) })).toBe(
    'To the ear it is as loud as in front; its bass alone is about 1.4 times as loud as the bass there.',
  )
  expect(loudnessSentence({ here: heard(0, 0), front: heard(1, 0.1) })).toContain('cannot be heard')
})

test('each place is told with its own level and longest time, and the limit that one of them passes', () => {
  const at = (aWeightedDb: number) => ({ ...heard(33.7, 8.5), aWeightedDb })
  expect(exposureSentence({ here: at(74.6), front: at(84.6) }, 'here')).toBe(
    '75 dB(A), as here, is below what NIOSH limits at work. ' +
      'At 85 dB(A), as in front, the longest stay that NIOSH advises for people at work is 8 hours a day.',
  )
  expect(exposureSentence({ here: at(90.2), front: at(94) }, 'behind')).toMatch(
    /^At 90 dB\(A\), as behind, the longest stay .* is 2\.5 hours a day\. At 94 dB\(A\), as in front, .* 1 hour a day\.$/,
  )
  expect(exposureSentence({ here: at(90), front: at(105) }, 'here')).toMatch(
    /is 4 minutes a day\. The World Health Organization’s standard/,
  )
})

test('where nothing is known of the places, the level that is set is told', () => {
  expect(setLevelSentence(94, '4 m')).toBe(
    'At 94 dB(A), as 4 m in front in free air, the longest stay that NIOSH advises for people at work is 1 hour a day.',
  )
})
