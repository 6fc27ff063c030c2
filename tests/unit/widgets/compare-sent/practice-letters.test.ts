import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import { LevelStream, type Rig } from '../../../../src/acoustics/index.ts'
import { compareAnswer } from '../../../../src/engine/questions/compare/compare.ts'
import type { Take } from '../../../../src/engine/questions/compare/compare-terms.ts'
import { practiceTake } from '../../../../src/engine/questions/compare/practice.ts'
import { foolingTakes, type PracticeName } from '../../../../src/engine/questions/compare/practice-terms.ts'
import { sentAnswer } from '../../../../src/engine/questions/compare/sent.ts'
import { takeSummary } from '../../../../src/engine/questions/compare/take.ts'
import { loadSolvedRig } from '../../../../src/engine/scene/solved-gear.ts'
import { headline, roomDid } from '../../../../src/widgets/compare/describe-verdict.ts'
import { emptyTest, type KeptTest, questionOf, withBoth } from '../../../../src/widgets/compare/kept-test.ts'
import { letterOf } from '../../../../src/widgets/compare/letter-of.ts'
import { meaning } from '../../../../src/widgets/compare-sent/describe-sent.ts'
import { readLetter, writeLetter } from '../../../../src/widgets/compare-sent/letter.ts'

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
const takes = new Map<PracticeName, Take>()
const takeOf = (name: PracticeName): Take => {
  const known = takes.get(name)
  if (known) return known
  const { sampleRateHz, front, behind } = practiceTake(name, 7, { rig })
  const stream = new LevelStream({ sampleRateHz, channelCount: 2 })
  stream.push([front, behind])
  const take = takeSummary({ levels: stream.levels() })
  takes.set(name, take)
  return take
}
beforeAll(() => loadSolvedRig(rig))

/** The test of the page with one of the practice recordings in its third step. */
const testWith = (name: PracticeName, setUp: Partial<KeptTest['setUp']> = {}): KeptTest => {
  const step = (practice: PracticeName) => ({
    ...withBoth(
      practice,
      { kind: 'take' as const, take: takeOf(practice), channel: 0 },
      { kind: 'take' as const, take: takeOf(practice), channel: 1 },
    ),
    practice,
  })
  const empty = emptyTest()
  return {
    ...empty,
    steps: { match: step('match'), quiet: step('quiet'), sound: step(name) },
    setUp: { ...empty.setUp, ...setUp },
  }
}

describe('the sentence of a link is that of the test, for every practice recording', () => {
  const setUps: [string, Partial<KeptTest['setUp']>][] = [
    ['as it comes', {}],
    ['no wall near', { walls: 'none' }],
    ['the wall entered', { walls: 'some', wallBehindM: 0.7 }],
    ['5 m in front', { walls: 'none', frontM: 5 }],
    ['brought together', { walls: 'none', frontM: 5, bringTogether: true }],
  ]
  test.each(
    (['sound', ...foolingTakes] as const).flatMap((name) => setUps.map(([words, setUp]) => ({ name, words, setUp }))),
  )(
    '$name, $words',
    ({ name, setUp }) => {
      const kept = testWith(name, setUp)
      const question = questionOf(kept, 85)
      if (!question) throw new Error('the test is whole')
      const answer = compareAnswer(question)
      const letter = letterOf({ test: kept, question, answer }, '', '2026-11-29')
      if (!letter) throw new Error('the test has its distances')
      const text = writeLetter(letter)
      // A common limit of what programs leave whole.
      expect(text.length).toBeLessThan(1500)
      const read = readLetter(text)
      if (typeof read === 'string') throw new Error(read)
      expect(read).toMatchObject({ isPractice: true, isMatched: true, hasQuiet: true })
      const { verdict } = sentAnswer({ sent: read.test })
      expect(headline(verdict)).toBe(headline(answer.verdict))
      expect(roomDid(verdict)).toBe(roomDid(answer.verdict))
      // A dip hardly deeper than the least that counts (4 dB) may be lost in rounding; none else is, none moves by more than 1 %.
      for (const dip of answer.verdict.dips.filter(({ depthDb }) => depthDb >= 4.5)) {
        const there = verdict.dips.find(({ frequencyHz }) => Math.abs(frequencyHz / dip.frequencyHz - 1) < 0.01)
        expect(there, `${dip.frequencyHz} Hz`).toMatchObject({ place: dip.place, fits: dip.fits && expect.anything() })
      }
      const told = meaning(verdict)
      expect(told.length).toBeGreaterThanOrEqual(3)
      expect(told.length).toBeLessThanOrEqual(4)
      for (const sentence of told) expect(sentence).toMatch(/^[A-Z].*\.$/)
    },
    180_000,
  )
})
