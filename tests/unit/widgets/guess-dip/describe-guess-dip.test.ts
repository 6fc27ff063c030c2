import { expect, test } from 'vitest'
import { changeWords, guessDipVerdict } from '../../../../src/widgets/guess-dip/describe-guess-dip.ts'

const wall = {
  thereAndBackM: 3.4,
  ruleDipHz: 50.5,
  ruleRiseHz: 100.9,
  ruleSecondDipHz: 151.4,
  dip: { frequencyHz: 45.4, changeDb: -6.1 },
  secondDip: { frequencyHz: 142, changeDb: -4.5 },
}

test('who marks the whole wave is told the slip', () => {
  for (const guessHz of [94, 100, 106]) {
    expect(guessDipVerdict(guessHz, 3, wall, 'm')).toMatch(
      /^This is the common slip\. A whole wave of 100 Hz fits into 3\.4 m, .* adds 3 dB in front\. The lowest dip is at 45 Hz/,
    )
  }
})

test('who marks the half wave is right, by the rule or as computed', () => {
  for (const guessHz of [44, 45, 50, 54])
    expect(guessDipVerdict(guessHz, -4.8, wall, 'ft')).toMatch(/^Right\. .* takes 5 dB .* fits into 11 ft\.$/)
})

test('the second dip is called a dip, and anything else is told what happens there', () => {
  expect(guessDipVerdict(146, -4.5, wall, 'm')).toMatch(/^A dip too, but the second one/)
  expect(guessDipVerdict(74, 0.2, wall, 'm')).toMatch(/^At 74 Hz the wall changes nothing in front\. The lowest dip/)
})

test('changes are whole decibels', () => {
  expect([2.6, -2.6, 0.4, -0.4].map(changeWords)).toEqual([
    'adds 3 dB',
    'takes 3 dB',
    'changes nothing',
    'changes nothing',
  ])
})
