import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Rig } from '../../../../../src/acoustics/index.ts'
import { microphoneOffsetDb } from '../../../../../src/acoustics/measuring/practice-recording.ts'
import { faultAnswers } from '../../../../../src/engine/questions/compare/fault.ts'
import type { FaultAnswer, FaultEvidence } from '../../../../../src/engine/questions/compare/fault-terms.ts'
import { practiceTake } from '../../../../../src/engine/questions/compare/practice.ts'
import {
  type FoolingTake,
  foolingTakes,
  type PracticeTruth,
} from '../../../../../src/engine/questions/compare/practice-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { heardBands } from '../../../../../src/engine/scene/third-octaves.ts'
import { headline } from '../../../../../src/widgets/compare/describe-verdict.ts'
import {
  bandRows,
  choiceWords,
  evidenceWords,
  findingWords,
  letterOf,
  offeredCauses,
} from '../../../../../src/widgets/find-fault/describe-find-fault.ts'

const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig
let answers: FaultAnswer[]
beforeAll(async () => {
  await loadSolvedRig(rig)
  answers = faultAnswers(rig)
}, 300_000)

const of = (name: FoolingTake) => answers.find((answer) => answer.name === name) as FaultAnswer
function evidence<F extends FaultEvidence['fault']>(fault: F & FoolingTake): Extract<FaultEvidence, { fault: F }> {
  const { evidence: found } = of(fault)
  expect(found.fault).toBe(fault)
  return found as Extract<FaultEvidence, { fault: F }>
}
const truths = new Map<string, PracticeTruth>()
function truthOf(name: FoolingTake | 'match'): PracticeTruth {
  const truth = truths.get(name) ?? practiceTake(name, 7, { rig }).truth
  truths.set(name, truth)
  return truth
}

describe('six recordings with one mistake each', () => {
  test('all have their answer, by letter', () => {
    expect(answers.map(({ name }) => name)).toEqual([...foolingTakes])
    expect(foolingTakes.map(letterOf).join('')).toBe('ABCDEF')
  })

  test('a fair test of the same rig is what the truth says, and the mistake is all that lies between', () => {
    for (const { name, fair, measured } of answers) {
      expect(fair.front.every((levelDb) => levelDb === 0)).toBe(true)
      expect(fair.behind, name).toEqual(truthOf('match').fairDb)
      for (const place of ['front', 'behind'] as const)
        expect(measured[place].filter((levelDb) => levelDb !== null)).toHaveLength(heardBands.length)
    }
  })

  test('the test itself says "more" of one alone: the crew that entered a distance that was not so', () => {
    const yes = answers.filter(({ told }) => headline(told).startsWith('Yes'))
    expect(yes.map(({ name }) => name)).toEqual(['unequal-distances'])
    for (const { told, name } of answers)
      if (name !== 'unequal-distances') expect(told.bassCause, name).toBe('hardly-any')
  })

  test('another microphone: the bend that was planted, and nothing in front', () => {
    const { lowDb, middleDb, highDb, frontMostDb } = evidence('unmatched-microphones')
    const [now, then] = [truthOf('unmatched-microphones').microphones, truthOf('match').microphones]
    const planted = (hz: number) => microphoneOffsetDb(now.behind, hz) - microphoneOffsetDb(then.behind, hz)
    // 0.2 dB: the slope of the offset inside a band, and background in the treble.
    expect(Math.abs(lowDb - planted(25))).toBeLessThan(0.2)
    expect(Math.abs(middleDb - planted(1000))).toBeLessThan(0.2)
    expect(Math.abs(highDb - planted(16000))).toBeLessThan(0.2)
    expect(frontMostDb).toBeLessThan(0.1)
  })

  test('the farther microphone: the line in front alone is shifted, and it fits the true distance within a tenth', () => {
    const { frontDb, fitsM, behindMostDb } = evidence('unequal-distances')
    expect(frontDb).toBeLessThan(-5)
    expect(Math.abs(fitsM / truthOf('unequal-distances').distanceM.front - 1)).toBeLessThan(0.1)
    expect(behindMostDb).toBeLessThan(0.2)
  })

  test('the wall: dips at odd multiples of the lowest, which fits the wall within 5 cm', () => {
    const { dipsHz, extraM, wallM } = evidence('wall-behind-microphone')
    expect(dipsHz.length).toBeGreaterThanOrEqual(3)
    const [lowest = Number.NaN] = dipsHz
    expect(dipsHz.map((frequencyHz) => Math.round(frequencyHz / lowest))).toEqual([1, 3, 5, 7].slice(0, dipsHz.length))
    expect(Math.abs(extraM - (truthOf('wall-behind-microphone').extraPathM as number))).toBeLessThan(0.1)
    expect(wallM).toBeCloseTo(extraM / 2, 10)
  })

  test('talk: both spells are found, and hold what was planted; counted, they hide how little is behind', () => {
    const { spells, countedDb, leftOutDb } = evidence('talking')
    const planted = truthOf('talking').talking
    expect(spells).toHaveLength(planted.length)
    for (const [index, { fromS, toS }] of planted.entries()) {
      expect(spells[index]?.fromS).toBeLessThanOrEqual(fromS)
      expect(spells[index]?.toS).toBeGreaterThanOrEqual(toS)
    }
    expect(countedDb - leftOutDb).toBeGreaterThan(5)
    const band = heardBands.findIndex(({ nominalHz }) => nominalHz === 1000)
    expect(Math.abs(leftOutDb - (of('talking').fair.behind[band] as number))).toBeLessThan(0.2)
  })

  test('the slow meter: its end is flat, as far down as it falls by itself; the recording goes on', () => {
    const { flatDb, fallDb, recordedDb, fromHz } = evidence('meter-smoothing')
    expect(Math.abs(flatDb + fallDb)).toBeLessThan(0.6)
    expect(fromHz).toBeLessThanOrEqual(2000)
    expect(recordedDb).toBeLessThan(flatDb - 10)
  })

  test('the volume: alike in every band, by what was turned', () => {
    const { leastDb, mostDb, frontMostDb } = evidence('volume-changed')
    const { volumeChangeDb } = truthOf('volume-changed')
    expect(Math.abs(leastDb - volumeChangeDb)).toBeLessThan(0.1)
    expect(Math.abs(mostDb - volumeChangeDb)).toBeLessThan(0.1)
    expect(frontMostDb).toBeLessThan(0.1)
  })
})

describe('in words', () => {
  test('no cause stands at the place of its own letter, and all six do', () => {
    expect([...offeredCauses].sort()).toEqual([...foolingTakes].sort())
    for (const [index, cause] of offeredCauses.entries()) expect(cause).not.toBe(foolingTakes[index])
  })

  test('the finding says what came out and what a fair test finds', () => {
    expect(findingWords(of('unmatched-microphones'))).toBe(
      'Recording A: 2 dB more behind in the bass and 31 dB less behind in the treble. A fair test finds 2 dB less behind and 29 dB less behind.',
    )
  })

  test('the right cause is told with its evidence, a wrong one with how it would look', () => {
    for (const answer of answers)
      for (const cause of foolingTakes) {
        const words = choiceWords(cause, answer, 'm')
        expect(words).not.toMatch(/NaN|undefined|Infinity/)
        if (cause === answer.name) expect(words).toContain(evidenceWords(answer.evidence, 'm'))
        else expect(words).toMatch(/^Not that one\. /)
      }
  })

  test('lengths are told in the reader’s unit', () => {
    const wall = of('wall-behind-microphone').evidence
    expect(evidenceWords(wall, 'm')).toContain('off a wall 68 cm beyond the microphone')
    expect(evidenceWords(wall, 'ft')).toMatch(/off a wall 27 in beyond/)
  })

  test('the table has every band', () => {
    const rows = bandRows(of('volume-changed'))
    expect(rows).toHaveLength(heardBands.length)
    for (const row of rows) expect(row).toHaveLength(5)
  })
})
