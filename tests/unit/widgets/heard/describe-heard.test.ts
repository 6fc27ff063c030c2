import { expect, test } from 'vitest'
import { exposureSentence, heardRows, loudnessSentence } from '../../../../src/widgets/heard/describe-heard.ts'
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

test('a level is told with its longest time and the limit that it passes', () => {
  expect(exposureSentence(75)).toBe('75 dB(A) is below what NIOSH limits at work.')
  expect(exposureSentence(85)).toContain('no longer than 8 hours a day')
  expect(exposureSentence(94)).toContain('no longer than 1 hour a day')
  expect(exposureSentence(105)).toContain('no longer than 5 minutes a day. The World Health Organization’s standard')
})
