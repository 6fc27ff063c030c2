import { describe, expect, test } from 'vitest'
import type { RangeHere } from '../../../../src/engine/questions/phone-walk/phone-terms.ts'
import { phoneWalkAnswer } from '../../../../src/engine/questions/phone-walk/phone-walk.ts'
import {
  countedWords,
  driftSentence,
  hereSentence,
  isBehind,
  predictedSentence,
  quietWords,
  soundFault,
  sureWords,
  walkCsv,
  walkName,
} from '../../../../src/widgets/phone-walk/describe-walk.ts'
import { walkQuestion } from '../../../../src/widgets/phone-walk/walk-question.ts'
import { aWalk, heardAt } from './walk-fixture.ts'

/** Front less here. */
const told = (levelDb: number, errorDb = 0.2): RangeHere => ({
  kind: 'told',
  found: { fromHz: 40, toHz: 160, difference: { levelDb, errorDb, freedom: 30 }, measured: 7, of: 7 },
})
const least = (quieterDb: number): RangeHere => ({ kind: 'at-least', quieterDb })
const notHeard: RangeHere = { kind: 'not-heard' }

describe('the sentence', () => {
  test.each<[RangeHere, RangeHere, string]>([
    [told(1), told(18), 'Bass here is 1 dB quieter than in front, treble 18 dB quieter.'],
    [told(0.2), told(0), 'Bass here is as loud as in front, treble as loud.'],
    [told(-2), told(3), 'Bass here is 2 dB louder than in front, treble 3 dB quieter.'],
    [
      told(1),
      least(21.8),
      'Bass here is 1 dB quieter than in front. Treble here is at least 21 dB quieter than in front: what is left of it drowns in the background.',
    ],
    [notHeard, told(4), 'Too little bass is heard here to tell. Treble here is 4 dB quieter than in front.'],
    [notHeard, notHeard, 'Too little bass is heard here to tell. Too little treble is heard here to tell.'],
  ])('%#', (bass, treble, words) => {
    expect(hereSentence({ bass, treble })).toBe(words)
  })

  test('says the wider of both intervals, never less than it is, and nothing where there is no number', () => {
    // 1.05 × 2.04, Student's t of 30 degrees of freedom.
    expect(sureWords({ bass: told(1, 0.2), treble: told(3, 1.05) })).toBe('Sure to about ±3 dB.')
    expect(sureWords({ bass: told(1, 0.01), treble: notHeard })).toBe('Sure to about ±1 dB.')
    expect(sureWords({ bass: notHeard, treble: least(3) })).toBe('')
  })

  test('says which bands count, and which do not, where that is not all', () => {
    const walk = aWalk()
    const place = walk.places[0] as (typeof walk.places)[number]
    place.heard.levels = place.heard.levels.map((each, band) => (each && band < 4 ? { ...each, levelDb: -79 } : each))
    const answer = phoneWalkAnswer(walkQuestion(walk)).places[0]
    if (!answer) throw new Error('the walk has no place')
    expect(countedWords(answer)).toBe('Bass counts 63 to 160 Hz.')
    expect(quietWords(answer, true)).toBe(
      '3 bands do not stand 3 dB over the quiet here or in front and are not counted: 31.5 Hz, 40 Hz and 50 Hz.',
    )
    expect(quietWords(answer, false)).toContain('The quiet was not held')
    const whole = phoneWalkAnswer(walkQuestion(aWalk())).places[1]
    expect(whole && countedWords(whole)).toBe('')
    expect(whole && quietWords(whole, true)).toBe('')
  })
})

test('a front that is held again is as it was, or by how much it is not', () => {
  const drift = (levelDb: number) => ({ levelDb, errorDb: 0.1, freedom: 100 })
  expect(driftSentence({ bass: drift(0.2), middle: drift(0), treble: drift(-0.1) })).toBe(
    'Held in front again: as it was, to within 0.4 dB.',
  )
  expect(driftSentence({ bass: drift(2.1), middle: drift(2), treble: drift(0.1) })).toContain(
    'bass 2 dB louder, treble as loud.',
  )
  expect(driftSentence({ bass: null, middle: null, treble: drift(1) })).toContain('too little is heard')
})

test('what the model expects is told as it is, or why it is not', () => {
  const there = { distanceM: 4, angleDeg: 150 }
  expect(predictedSentence(there, { differenceDb: [], bassDb: -1.2, trebleDb: -17.8 })).toBe(
    'Predicted: bass 1 dB down, treble 18 dB down.',
  )
  expect(predictedSentence(there, 'outside')).toContain('Nobody can stand there')
  expect(predictedSentence({ distanceM: 4, angleDeg: null }, null)).toContain('how far and in which direction')
  expect(predictedSentence(there, null)).toContain('being worked out')
})

test('clipping and peaks that were taken off are said, and clean sound is not', () => {
  expect(soundFault({ clippedSamples: 3, crestDb: 12 })).toContain('clips')
  expect(soundFault({ clippedSamples: 0, crestDb: 7 })).toContain('Peaks are taken off')
  expect(soundFault(heardAt(-30))).toBe('')
  expect(soundFault({ clippedSamples: 0, crestDb: null })).toBe('')
})

test('a walk is called by when it began', () => {
  expect(walkName(new Date(2026, 4, 1, 9, 5), false)).toBe('Walk of 2026-05-01, 09:05')
  expect(walkName(new Date(2026, 4, 1, 19, 5), true)).toBe('Practice of 2026-05-01, 19:05')
})

test('teal is for what is behind alone', () => {
  expect([180, -91, 90, 0, null].map(isBehind)).toEqual([true, true, false, false, false])
})

test('the bands as CSV: names in quotes, no formula in a name, empty where nothing was measured', () => {
  const walk = aWalk()
  const [first, second] = walk.places
  if (first) first.name = '=SUM("a")'
  if (second) second.name = 'door, left'
  const lines = walkCsv(walk, phoneWalkAnswer(walkQuestion(walk)).places).split('\r\n')
  expect(lines[0]).toBe('place,distanceM,angleDeg,frequencyHz,frontDb,hereDb,hereMinusFrontDb,halfInterval95Db')
  expect(lines[1]).toBe(`"'=SUM(""a"")",4,150,25,,,,`)
  expect(lines[2]).toMatch(/^"'=SUM\(""a""\)",4,150,31.5,-30\.\d\d,-36\.\d\d,-6\.\d\d,1\.\d\d$/)
  expect(lines[31]).toMatch(/^"door, left",,,31.5,/)
  expect(lines).toHaveLength(1 + 2 * 29 + 1)
})
