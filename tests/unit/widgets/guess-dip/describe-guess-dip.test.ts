import { expect, test } from 'vitest'
import { changeWords, guessDipVerdict } from '../../../../src/widgets/guess-dip/describe-guess-dip.ts'

const wall = {
  thereAndBackM: 4.88,
  ruleDipHz: 35.2,
  ruleRiseHz: 70.3,
  ruleSecondDipHz: 105.5,
  dip: { frequencyHz: 32.8, changeDb: -4.9 },
  secondDip: { frequencyHz: 98.2, changeDb: -4.5 },
}

test('who marks the whole wave is told the slip', () => {
  for (const guessHz of [66, 70, 75]) {
    expect(guessDipVerdict(guessHz, 3, wall)).toMatch(
      /^This is the common slip\. A whole wave of 70 Hz fits into 16 ft \(4\.9 m\), .* adds 3 dB in front\. The lowest dip is at 33 Hz/,
    )
  }
})

test('who marks the half wave is right, by the rule or as computed', () => {
  for (const guessHz of [32, 33, 35, 38]) expect(guessDipVerdict(guessHz, -4.8, wall)).toMatch(/^Right\. .* takes 5 dB/)
})

test('the second dip is called a dip, and anything else is told what happens there', () => {
  expect(guessDipVerdict(100, -4.5, wall)).toMatch(/^A dip too, but the second one/)
  expect(guessDipVerdict(50, 0.2, wall)).toMatch(/^At 50 Hz the wall changes nothing in front\. The lowest dip/)
})

test('changes are whole decibels', () => {
  expect([2.6, -2.6, 0.4, -0.4].map(changeWords)).toEqual([
    'adds 3 dB',
    'takes 3 dB',
    'changes nothing',
    'changes nothing',
  ])
})
