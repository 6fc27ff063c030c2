import { expect, test } from 'vitest'
import { guessDelaysMs, type SteerGuess } from '../../../../src/engine/questions/steer/steer-guess-terms.ts'
import { defaultState, readLink } from '../../../../src/state/share-link.ts'
import { amountWords, guessDelayVerdict, stepOf } from '../../../../src/widgets/guess-delay/describe-guess-delay.ts'
import { guessDelayLink } from '../../../../src/widgets/guess-delay/guess-delay-link.ts'
import { shortDelayText } from '../../../../src/words/times.ts'

// A pair whose cut falls by 2 dB for each millisecond off 4 ms, and whose loss is a millisecond's step a decibel.
const pair: SteerGuess = {
  spacingM: 1.35,
  travelMs: 3.93,
  bestMs: 3.9,
  box: { heightM: 0.62, depthM: 0.66 },
  tableM: 4,
  cutsDb: guessDelaysMs.map((delayMs) => 12 - 2 * Math.abs(delayMs - 3.9)),
  lossesDb: guessDelaysMs.map((delayMs) => delayMs / 2),
  turnedOnly: { cutDb: 0.3, lossDb: -0.7 },
}

test('who is within 0.3 ms of one way is right, and hears what it brings and costs', () => {
  for (const guessMs of [3.7, 3.9, 4.2]) {
    expect(guessDelayVerdict(guessMs, pair)).toMatch(
      /^Right: the sound needs 3\.9 ms for the 1\.35 m \(4 ft 5 in\) between the fronts\. With \d.* 1[12] dB less at the table, 2 dB less in front\./,
    )
  }
  expect(guessDelayVerdict(3.5, pair)).not.toMatch(/^Right/)
})

test('who finds the delay that suits this table best is right too, and hears why it is not one way', () => {
  const near = { ...pair, bestMs: 3.4, cutsDb: guessDelaysMs.map((delayMs) => 15 - 2 * Math.abs(delayMs - 3.4)) }
  for (const guessMs of [3.1, 3.4, 4.2]) {
    expect(guessDelayVerdict(guessMs, near)).toMatch(
      /^Right: .* At this table 3\.4 ms is better still, 15 dB less, because/,
    )
  }
  expect(guessDelayVerdict(3, near)).not.toMatch(/^Right:/)
})

test('polarity alone, and there and back, are called by name and still told the answer', () => {
  expect(guessDelayVerdict(0, pair)).toMatch(
    /^That is polarity alone, .* With 0 ms, .* Right is one way: .* 12 dB less/,
  )
  expect(guessDelayVerdict(7.8, pair)).toMatch(/^That is the way there and back\. .* Right is one way/)
})

test('any other guess is told its own numbers first, and every verdict tells what turning alone does', () => {
  expect(guessDelayVerdict(1.9, pair)).toMatch(
    /^With 1\.9 ms, against the two stacked: 8 dB less at the table, 1 dB less in front\. Right is one way/,
  )
  for (const guessMs of [0, 1, 3.9, 7.8, 10]) {
    expect(guessDelayVerdict(guessMs, pair)).toMatch(
      /Turning the rear box round and doing nothing else: no less at the table, 1 dB more in front\.$/,
    )
  }
})

test('amounts are whole decibels, delays tenths of a millisecond on the grid of the slider', () => {
  expect([2.6, 0.4, -0.4, -1.2].map(amountWords)).toEqual(['3 dB less', 'no less', 'no less', '1 dB more'])
  expect([0, 0.00393, 0.01].map(shortDelayText)).toEqual(['0 ms', '3.9 ms', '10 ms'])
  expect([3.93, -4, 77].map(stepOf)).toEqual([3.9, 0, 10])
})

test('a link keeps the guess, and drops one that the slider does not have', () => {
  expect(readLink(guessDelayLink, new URLSearchParams('guess-delay.v=1&guess-delay.delayMs=3.9')).state.delayMs).toBe(
    3.9,
  )
  const { state, dropped } = readLink(guessDelayLink, new URLSearchParams('guess-delay.delayMs=3.95'))
  expect(state).toEqual(defaultState(guessDelayLink))
  expect(dropped).toEqual(['delayMs “3.95” (not a step of the slider)'])
})
