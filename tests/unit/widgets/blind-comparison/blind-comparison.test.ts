import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import type { BlindStage } from '../../../../src/engine/questions/blind/blind-terms.ts'
import type { WalkAnswer } from '../../../../src/engine/questions/walk/walk.ts'
import { spectrumBands } from '../../../../src/engine/scene/third-octaves.ts'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import { type BlindState, blindLink } from '../../../../src/widgets/blind-comparison/blind-comparison-link.ts'
import {
  chanceSeed,
  drawBehind,
  type Go,
  isComplete,
  isUnderWay,
  type Letter,
  rightCount,
  stageResults,
  trialRows,
} from '../../../../src/widgets/blind-comparison/blind-trials.ts'
import {
  brokenOffSentence,
  conclusionSentence,
  differedSentence,
  markSentence,
  otherPlace,
  passes,
  progressSentence,
  stageNames,
  stageVerdict,
  toldSentence,
} from '../../../../src/widgets/blind-comparison/describe-blind-comparison.ts'
import { chanceText } from '../../../../src/words/numbers.ts'

const go = (stage: BlindStage, behind: string, said: string, brokenOff = false): Go => ({
  stage,
  signal: 'pink-noise',
  behind: [...behind] as Letter[],
  said: [...said] as Letter[],
  brokenOff,
})

const bandsBy = (levelDb: (nominalHz: number) => number) => spectrumBands.map(({ nominalHz }) => levelDb(nominalHz))
const answer = (change: Partial<WalkAnswer> = {}) =>
  ({
    bassDb: -2.2,
    trebleDb: -28.7,
    estimateFromHz: 2000,
    heard: { here: { aWeightedDb: 74 }, front: { aWeightedDb: 88.6 } },
    frontDb: bandsBy(() => 0),
    hereDb: bandsBy((nominalHz) => (nominalHz < 100 ? -1.4 : -3.2)),
    ...change,
  }) as WalkAnswer

const result = (right: number, trials = 8, goes = 1) => ({ right, trials, goes })
const conclusion = (level: number, matched: number, bass: number, change: Partial<WalkAnswer> = {}) =>
  conclusionSentence(
    { 'true-level': result(level), matched: result(matched), 'bass-alone': result(bass) },
    answer(change),
    180,
  )

describe('the trials', () => {
  test('are drawn alike from one seed, and either letter about as often', () => {
    expect(drawBehind(20, seededRandom(7))).toEqual(drawBehind(20, seededRandom(7)))
    expect(drawBehind(20, seededRandom(7))).not.toEqual(drawBehind(20, seededRandom(8)))
    const drawn = drawBehind(10000, seededRandom(1))
    // Four standard deviations of a fair coin: 4 · √(10000/4) = 200.
    expect(Math.abs(drawn.filter((letter) => letter === 'A').length - 5000)).toBeLessThan(200)
    // What comes next does not follow from what came before.
    const repeats = drawn.filter((letter, trial) => letter === drawn[trial - 1]).length
    expect(Math.abs(repeats - 5000)).toBeLessThan(200)
  })
  test('have another seed at every visit', () => {
    expect(new Set(Array.from({ length: 20 }, chanceSeed)).size).toBe(20)
  })
  test('count as a result only when all are answered', () => {
    const open = go('matched', 'AABB', 'AA')
    expect([isComplete(open), isUnderWay(open), rightCount(open)]).toEqual([false, true, 2])
    expect(stageResults([open])).toEqual({})
    const whole = go('matched', 'AABB', 'AAAB')
    expect([isComplete(whole), isUnderWay(whole), rightCount(whole)]).toEqual([true, false, 3])
    expect(stageResults([whole])).toEqual({ matched: { right: 3, trials: 4, goes: 1 } })
  })
  test('of the newest complete go count; goes broken off after an answer are remembered, those before one are not', () => {
    const sitting = [
      go('matched', 'AABB', 'AAAB'),
      go('matched', 'AABB', 'BB', true),
      go('true-level', 'AABB', 'AABB'),
      go('matched', 'ABAB', '', true),
      go('matched', 'ABAB', 'BABA'),
    ]
    expect(stageResults(sitting)).toEqual({
      'true-level': { right: 4, trials: 4, goes: 1 },
      matched: { right: 0, trials: 4, goes: 3 },
    })
    expect(isUnderWay(sitting[1] as Go)).toBe(false)
  })
  test('stay hidden in the table until they may be told', () => {
    const sitting = [go('true-level', 'AB', 'AA'), go('matched', 'AB', 'B')]
    const first = stageNames['true-level']
    expect(trialRows(sitting, false, stageNames)).toEqual([
      [first, 1, 'A', 'A', 'right'],
      [first, 2, 'A', 'B', 'wrong'],
      [stageNames.matched, 1, 'B', '?', '?'],
    ])
    expect(trialRows(sitting, true, stageNames)[2]).toEqual([stageNames.matched, 1, 'B', 'A', 'wrong'])
  })
  test('of a go that was broken off stay hidden as well, unless each was told', () => {
    expect(trialRows([go('matched', 'AB', 'B', true)], false, stageNames)).toEqual([
      [stageNames.matched, 1, 'B', '?', '?'],
    ])
  })
})

describe('the verdict on a stage', () => {
  test('says what guessing would do, and what follows', () => {
    expect(stageVerdict(result(7))).toBe(
      '7 of 8 right. Guessing would do as well or better in 4 % of tries: you can hear it.',
    )
    expect(stageVerdict(result(8))).toBe(
      '8 of 8 right. Guessing would do as well or better in less than 1 % of tries: you can hear it.',
    )
    expect(stageVerdict(result(5))).toBe(
      '5 of 8 right. Guessing would do as well or better in 36 % of tries: nothing that shows you can tell them apart.',
    )
  })
  test('6 of 8 is not enough: guessing does that in 14 % of tries', () => {
    expect(stageVerdict(result(6))).toContain('in 14 % of tries: nothing that shows')
    expect([4, 5, 6, 7, 8].map((right) => passes(result(right)))).toEqual([false, false, false, true, true])
  })
  test('says so when one is taken for the other', () => {
    expect(stageVerdict(result(1))).toBe(
      '1 of 8 right. Guessing would do as badly or worse in 4 % of tries: you may well hear a difference and take one for the other.',
    )
    expect(stageVerdict(result(2))).toContain('nothing that shows')
  })
  test('warns that many goes make luck likely', () => {
    // 1 − (1 − 9/256)³ = 0.102
    expect(stageVerdict(result(8, 8, 3))).toMatch(
      /you can hear it\. But that was go 3: in 3 goes, guessing passes at least once in 10 % of tries\.$/,
    )
  })
  test('names the mark and how often a good ear would miss it', () => {
    expect(markSentence(8)).toContain('You pass with 7 of 8: guessing does that in 4 % of tries, and 5 % is the most')
    expect(markSentence(8)).toContain('still miss that mark in 63 % of tries')
    expect(markSentence(20)).toContain('You pass with 15 of 20: guessing does that in 2 % of tries')
    expect(markSentence(20)).toContain('still miss that mark in 38 % of tries')
  })
  test('chances are whole per cent, and never 0 or 100 that are not', () => {
    expect([1 / 256, 0.006, 0.36, 255 / 256, 1].map(chanceText)).toEqual([
      'less than 1 %',
      '1 %',
      '36 %',
      'more than 99 %',
      '100 %',
    ])
  })
  test('there is none before the end', () => {
    expect(progressSentence(3, 8, 3)).toBe('3 of 8 answered, 3 right so far. The verdict comes after the last.')
    expect(progressSentence(3, 8, undefined)).toBe('3 of 8 answered. The verdict comes after the last.')
    expect(progressSentence(0, 8, 0)).toBe('0 of 8 answered. The verdict comes after the last.')
    expect(brokenOffSentence(3, 8)).toBe('Broken off after 3 of 8: no verdict.')
  })
})

describe('what is told after an answer', () => {
  test('who was where', () => {
    expect(toldSentence('A', 'A', 180)).toBe('You said A. Right: A was behind.')
    expect(toldSentence('A', 'B', 95)).toBe('You said A. Wrong: B was beside.')
    expect([90, 110, 115, 180].map(otherPlace)).toEqual(['beside', 'beside', 'behind', 'behind'])
  })
  test('what differed, by stage', () => {
    expect(differedSentence('true-level', answer(), 180)).toBe(
      'What differed: behind, bass is 2 dB quieter, treble about 29 dB quieter.',
    )
    expect(differedSentence('matched', answer({ estimateFromHz: 20000 }), 180)).toBe(
      'What differed: behind, bass is 2 dB quieter, treble 29 dB quieter; both were then made equally loud.',
    )
    expect(differedSentence('bass-alone', answer(), 180)).toBe(
      'What differed: behind, the bass is 2 dB quieter. Matching takes the level away; what is left is its shape, 2 dB between the third octaves that differ most.',
    )
    expect(differedSentence('bass-alone', answer({ bassDb: -0.2, hereDb: bandsBy(() => -0.2) }), 90)).toBe(
      'What differed: beside, the bass is as loud as in front. Matching takes the level away; what is left is less than 1 dB between its third octaves.',
    )
  })
})

describe('the conclusion', () => {
  test('treble heard, bass not: it is the missing treble', () => {
    expect(conclusion(8, 8, 4)).toBe(
      'Equally loud, with the treble, you told behind from front 8 of 8 times; with bass alone 4 of 8. What gives this place away is the missing treble, not the bass.',
    )
  })
  test('bass heard as well: says by how much it differs, and asks about the device', () => {
    expect(conclusion(8, 7, 7)).toContain(
      'by the bass alone as well (7 of 8). Before matching, the bass behind is 2 dB quieter; its third octaves differ from the front’s by −3 to −1 dB',
    )
    expect(conclusion(8, 7, 7)).toContain('not a rattle of the device')
    expect(conclusion(8, 7, 7, { bassDb: 0.3, hereDb: bandsBy(() => 0.3) })).toContain(
      'is as loud as in front; its third octaves differ from the front’s by 0 dB',
    )
  })
  test('bass heard but not the whole that holds it: one may be luck', () => {
    expect(conclusion(8, 4, 8)).toContain('One of the two may be luck')
  })
  test('only the level heard', () => {
    expect(conclusion(8, 4, 4)).toContain(
      'where pink noise is 15 dB quieter by A-weighting, but not once both were equally loud (4 of 8). What gave it away was the level.',
    )
  })
  test('nothing heard', () => {
    expect(conclusion(4, 5, 6)).toContain(
      'In no stage did you show that you can tell behind from front (4 of 8, 5 of 8, 6 of 8).',
    )
  })
  test('never claims that two sounds are the same', () => {
    for (const [level, matched, bass] of [
      [8, 8, 4],
      [8, 4, 4],
      [4, 4, 4],
      [4, 8, 4],
    ] as const)
      expect(conclusion(level, matched, bass)).not.toMatch(/the same|identical/)
  })
})

describe('the link of the blind comparison', () => {
  const link = blindLink(['top-over-sub', 'compact-two-way'])
  const state: BlindState = {
    rig: 'compact-two-way',
    angleDeg: 135,
    distanceM: 3.25,
    signal: 'music',
    trials: 12,
    feedback: 'off',
    seed: 7,
    units: 'ft',
  }
  test('keeps the whole state', () => {
    expect(readLink(link, writeLink(link, state, new URLSearchParams()))).toMatchObject({ state, dropped: [] })
  })
  test('drops what cannot be, and says so', () => {
    const text = 'blind.angleDeg=20&blind.trials=7.5&blind.seed=-1&blind.distanceM=9&blind.trials2=1&blind.signal=song'
    const { state: read, dropped } = readLink(link, new URLSearchParams(text))
    expect(read).toMatchObject({ angleDeg: 180, trials: 8, seed: 0, distanceM: 2.5, signal: 'pink-noise' })
    expect(dropped).toHaveLength(6)
    expect(dropped).toContain('angleDeg “20” (outside 90 to 180 degrees)')
    expect(dropped).toContain('trials “7.5” (not a whole number)')
  })
})
