import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { radiatedPowerW } from '../../../../../src/acoustics/field/radiated-power.ts'
import { gradientPair, makeAir, monopole, pressureFrom, squaredMagnitude } from '../../../../../src/acoustics/index.ts'
import { comparedTable } from '../../../../../src/engine/questions/steer/compared-facts.ts'
import { handSpacingsCm } from '../../../../../src/engine/questions/steer/hand-facts.ts'
import { wallTableGapsM } from '../../../../../src/engine/questions/steer/place-facts.ts'
import { settableSet } from '../../../../../src/engine/questions/steer/settable-set.ts'
import { steerAnswerInFull } from '../../../../../src/engine/questions/steer/solved-set.ts'
import { steerAnswer } from '../../../../../src/engine/questions/steer/steer.ts'
import { sizeOf } from '../../../../../src/engine/questions/steer/steer-boxes.ts'
import { pairTableHz, steerFacts } from '../../../../../src/engine/questions/steer/steer-facts.ts'
import { guessedPair } from '../../../../../src/engine/questions/steer/steer-guess.ts'
import { guessDelaysMs, guessHitMs } from '../../../../../src/engine/questions/steer/steer-guess-terms.ts'
import {
  lessonCase,
  lessonQuestion,
  lessonSet,
  lessonSpeedMps,
} from '../../../../../src/engine/questions/steer/steer-lesson.ts'
import { type SteerAnswer, type SteerSet, usableRule } from '../../../../../src/engine/questions/steer/steer-terms.ts'
import { textbookSet } from '../../../../../src/engine/questions/steer/textbook-set.ts'
import { tablePlace } from '../../../../../src/engine/scene/demo-hall.ts'
import { demoHallStates } from '../../../../../src/engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { defaultState } from '../../../../../src/state/share-link.ts'
import { questionOf, steerBassLink } from '../../../../../src/widgets/steer-bass/steer-bass-link.ts'
import reference from '../../../../evidence/reference/two-box-scattering.json' with { type: 'json' }

const rig = JSON.parse(readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8'))
await loadSolvedRig(rig)
const facts = steerFacts(rig)
const value = (name: keyof typeof facts) => facts[name].value
const rows = Object.keys(wallTableGapsM) as (keyof typeof wallTableGapsM)[]

test('the lesson and its figure begin with the same case', () => {
  const { frequencyHz: _, ...lesson } = lessonQuestion(rig)
  expect(questionOf(defaultState(steerBassLink(['top-over-sub'])), rig, demoHallStates)).toMatchObject(lesson)
})

test('what the words say about the pair is so', () => {
  // Of points: "Behind, it stays quiet all along", "towards both ends the pair falls behind the stack", "as silent as the back".
  const points = new Map(
    steerAnswer({ ...lessonQuestion(rig), point: true }).bands.map((band) => [band.bandHz, band] as const),
  )
  for (const hz of pairTableHz) expect(points.get(hz)?.behindCutDb).toBeGreaterThan(10)
  for (const hz of [31.5, 100]) expect(points.get(hz)?.frontLossDb).toBeGreaterThan(usableRule.frontLossDb)
  expect(Math.abs(points.get(125)?.rejectionDb ?? Number.NaN)).toBeLessThan(2)
  // Of subs: the lowest and the highest notes "step back, the middle hardly does".
  for (const hz of [31.5, 100] as const) expect(value(`loss-${hz}`)).toBeGreaterThan(2 * value('loss-63'))
  expect(value('loss-63')).toBeLessThan(1.5)
  expect(value('loss-125')).toBeGreaterThan(10)
  // "Towards the top … less is cancelled at the table. Two points … keep more there."
  for (const [hz, below] of [
    [80, 63],
    [100, 80],
    [125, 100],
  ] as const) {
    expect(value(`cut-${hz}`)).toBeLessThan(value(`cut-${below}`) - 1)
    expect(value(`cut-${hz}`)).toBeLessThan((points.get(hz)?.behindCutDb ?? Number.NaN) - 1)
  }
  expect(value('pair-rejection')).toBeGreaterThan(value('points-rejection'))
  expect(value('far-cut')).toBeGreaterThan(value('pair-cut') + 3)
})

test('turning alone does next to nothing behind, and costs in front', () => {
  for (const name of ['turned-cut', 'trio-turned-cut'] as const) expect(value(name)).toBeLessThan(2.5)
  expect(value('turned-loss')).toBeGreaterThan(value('turned-cut'))
  const rejectionDb = (change: Partial<SteerSet>) =>
    steerAnswer({ ...lessonQuestion(rig), set: { ...lessonSet, ...change } }).merits.rejectionDb
  expect(rejectionDb({ delayS: 0, inverted: false, turned: true })).toBeLessThan(0)
  expect(value('trio-turned-loss')).toBeGreaterThan(1)
  // "polarity alone takes as much from the front as from the back".
  expect(Math.abs(rejectionDb({ delayS: 0 }))).toBeLessThan(1)
})

/** An end-fire line by the book, as a delay can be set, with its table where the others have theirs. */
function line(count: number): SteerAnswer {
  const question = lessonCase(rig)
  const size = sizeOf(question)
  const set = settableSet(textbookSet('end-fire', count, question.band, size, lessonSpeedMps))
  return steerAnswerInFull({ ...question, set, behind: comparedTable(set, size) })
}

test('what the steps of "More boxes" say of each set is so', () => {
  const { depthM } = sizeOf({ rig, point: false })
  // "It needs hardly more depth than one box, and the band lies a little higher."
  expect(value('by-trio-depth')).toBeLessThan(1.1 * depthM)
  for (const end of ['from', 'to'] as const)
    expect(value(`by-trio-usable-${end}`)).toBeGreaterThan(value(`by-pair-usable-${end}`))
  // "The curve in front never falls behind the stack's by much." "That low place has become wider." "The boxes ahead stand in the way."
  const [two, four] = [line(2), line(4)]
  const fall = ({ curves }: SteerAnswer) => curves.stackedFrontDb.map((level, i) => level - (curves.frontDb[i] ?? 0))
  expect(Math.max(...fall(two))).toBeLessThan(2)
  expect(Math.max(...fall(four))).toBeGreaterThan(4)
  const quietLines = ({ curves }: SteerAnswer) =>
    curves.behindDb.filter((level, i) => level < (curves.stackedBehindDb[i] ?? 0) - 4).length
  expect(quietLines(four)).toBeGreaterThan(1.3 * quietLines(two))
  // "Two hardly mind, four do."
  expect(value('by-line-2-loss')).toBeLessThan(value('by-pair-loss'))
  expect(value('by-line-4-loss')).toBeGreaterThan(value('by-pair-loss') + 1)
  // "Behind it is hardly quieter than in front."
  expect(Math.abs(value('left-right-rejection'))).toBeLessThan(3)
  // "Most of the rejection is gone. Pull the wall away, and it comes back."
  expect(value('rejection-wall-close')).toBeLessThan(value('pair-rejection') / 2)
  expect(value('rejection-wall-long')).toBeGreaterThan(1.7 * value('rejection-wall-close'))
})

test('at this table 1 dB down helps and 1 dB up does not, less delay does as well and more less, a wrong polarity fires backwards', () => {
  expect(value('quiet-cut')).toBeGreaterThan(value('pair-cut') + 1)
  expect(value('loud-cut')).toBeLessThan(value('pair-cut') - 1)
  expect(Math.abs(value('early-cut') - value('pair-cut'))).toBeLessThan(0.5)
  expect(value('late-cut')).toBeLessThan(value('pair-cut') - 0.5)
  expect(value('polarity-rejection')).toBeLessThan(-6)
  expect(value('polarity-rise')).toBeGreaterThan(12)
})

test('the table to be worked by hand is c over d', () => {
  for (const cm of handSpacingsCm) {
    const metres = cm / 100
    expect(value(`delay-by-${cm}`)).toBeCloseTo((1000 * metres) / 343.2, 2)
    expect(value(`quarter-by-${cm}`)).toBeCloseTo(343.2 / metres / 4, 1)
    // The front of two points, worked anew: 3 dB at both ends, nothing in the middle, silence at the top.
    const lossDb = (hz: number) => -20 * Math.log10(Math.abs(Math.sin((2 * Math.PI * hz * metres) / 343.2)))
    for (const end of ['from', 'to'] as const) expect(lossDb(value(`${end}-by-${cm}`))).toBeCloseTo(3.01, 1)
    expect(lossDb(value(`quarter-by-${cm}`))).toBeCloseTo(0, 3)
    expect(lossDb(value(`silent-by-${cm}`))).toBeGreaterThan(60)
  }
  // "1½ octaves and a little".
  expect(Math.log2(value('to-by-135') / value('from-by-135'))).toBeCloseTo(1.585, 2)
})

test('the sets compare as the words say', () => {
  // A line of two works about one frequency; four keep more if they stand closer than by the book.
  const width = (name: 'by-line-2' | 'by-pair') => Math.log2(value(`${name}-usable-to`) / value(`${name}-usable-from`))
  expect(width('by-line-2')).toBeLessThan(width('by-pair'))
  expect(value('close-line-rejection')).toBeGreaterThan(value('by-line-4-rejection') + 2)
  // The trio: on less depth, its band higher.
  expect(value('by-trio-depth')).toBeLessThan(value('by-pair-depth') / 2)
  expect(value('by-trio-usable-to')).toBeGreaterThan(value('by-pair-usable-to') * 1.1)
  expect(value('left-right-rejection')).toBeLessThan(3)
  expect(value('lane-weak-80')).toBeLessThan(value('lane-weak-63'))
  // "most at …", on the way to where both are in step.
  expect(value('lane-peak-63')).toBeGreaterThan(value('lane-weak-63'))
  expect(value('lane-in-step-63')).toBeGreaterThan(value('lane-peak-63') + 1)
})

test('a wall takes rejection at every distance, leaves what the table gains over the stack, and costs more in front', () => {
  for (const row of rows) {
    expect(value(`rejection-wall-${row}`)).toBeLessThan(value(`open-wall-${row}`) - 3)
    expect(value(`cut-wall-${row}`)).toBeGreaterThan(8)
    expect(value(`loss-wall-${row}`)).toBeGreaterThan(value('pair-loss'))
  }
  expect(value('rejection-wall-close')).toBeLessThan(usableRule.rejectionDb)
  // "more behind than in front", also as it is printed, to the decibel.
  expect(Math.round(value('wall-stack-rejection'))).toBeLessThan(0)
  // "pushes the table close to the boxes": without the wall less is left there than where the lesson's table stands, and more than with it.
  expect(value('open-wall-close')).toBeLessThan(value('pair-rejection') - 1)
  expect(value('open-wall-close')).toBeLessThan(value('open-wall-long') - 3)
})

test('in the hall most of it is gone, and moving the tables does as much as the pair really brought', () => {
  expect(value('hall-cut')).toBeLessThan(value('near-cut') / 2)
  const timber = demoHallStates.find(({ key }) => key === 'timber')
  if (!timber) throw new Error('no timber hall')
  const surroundings = { kind: 'hall', design: timber.design } as const
  const { merits } = steerAnswer({ ...lessonQuestion(rig), surroundings, behind: tablePlace })
  expect(merits.rejectionDb).toBeLessThan(usableRule.rejectionDb / 2)
  expect(Math.abs(value('hall-move-saves') - value('hall-net'))).toBeLessThan(1)
  expect(value('hall-polarity-rise')).toBeLessThan(value('polarity-rise') / 2)
  // Outdoors steering wins.
  expect(value('move-saves')).toBeLessThan(value('pair-cut') - value('pair-loss'))
})

test('in a hard, bare hall switching the polarity back changes less than in the timber hall', () => {
  const brick = demoHallStates.find(({ key }) => key === 'brick')
  if (!brick) throw new Error('no brick hall')
  const surroundings = { kind: 'hall', design: brick.design } as const
  const { merits, errors } = steerAnswer({ ...lessonQuestion(rig), surroundings, behind: tablePlace })
  const riseDb = merits.behindCutDb - (errors.polarity?.behindCutDb ?? Number.NaN)
  expect(riseDb).toBeGreaterThan(1)
  expect(riseDb).toBeLessThan(value('hall-polarity-rise') - 1)
}, 60_000)

test('of two points the pair sends out half the power of the stack at the quarter wave, and a third far below for the same front', () => {
  const [spacingM, air] = [0.5, makeAir()]
  const pair = gradientPair(
    { spacingM, centre: { xM: 0, yM: 0, zM: 0 }, yawRad: 0, radiation: (frequencyHz) => monopole(frequencyHz, air) },
    air,
  )
  const quarterHz = air.speedOfSoundMps / (4 * spacingM)
  const farM = 1e4
  // Power and squared pressure far in front, both re one point alone; the stack has 4 of each.
  const powerOf = (frequencyHz: number) => radiatedPowerW(pair, frequencyHz, air) / monopole(frequencyHz, air).powerW
  const frontOf = (frequencyHz: number) => {
    const front = { xM: 0, yM: 0, zM: farM }
    return (
      squaredMagnitude(pressureFrom(pair, [], front, frequencyHz, air)) /
      squaredMagnitude(monopole(frequencyHz, air).pressureAt(front))
    )
  }
  expect(powerOf(quarterHz)).toBeCloseTo(2, 2)
  expect(frontOf(quarterHz)).toBeCloseTo(4, 2)
  expect(powerOf(quarterHz / 20) / frontOf(quarterHz / 20)).toBeCloseTo(1 / 3, 2)
  // "Above, the advantage is soon gone."
  expect(powerOf(1.5 * quarterHz) / frontOf(1.5 * quarterHz)).toBeGreaterThan(1)
})

test('the guess: one way is within a hit of the best delay or near it, and the traps are traps', () => {
  const guess = guessedPair(rig)
  const cut = (delayMs: number) => guess.cutsDb[guessDelaysMs.indexOf(delayMs)] as number
  expect(guess.spacingM).toBe(lessonSet.spacingM)
  expect(Math.abs(guess.bestMs - guess.travelMs)).toBeLessThan(2 * guessHitMs)
  expect(cut(3.9)).toBeGreaterThan(Math.max(cut(0), cut(1), cut(7.9)) + 8)
  expect(guess.turnedOnly.cutDb).toBeLessThan(3)
})

test('what the lesson says of the neighbour’s shadow behind is what two boxes solved together leave', () => {
  const lesson = readFileSync(
    join(import.meta.dirname, '../../../../../content/lessons/bass-that-takes-sides.mdx'),
    'utf8',
  )
  const { speedOfSoundMps } = makeAir()
  // Far straight ahead is the first direction, straight back the last; the rear box is late by its spacing, and inverted.
  const downDb = (spacingM: number, mostHz: number) =>
    reference.rows
      .filter((row) => row.place === 'floor' && row.spacingM === spacingM && row.frequencyHz <= mostHz)
      .map(({ rear, front, frequencyHz }) => {
        const phase = (-2 * Math.PI * frequencyHz * spacingM) / speedOfSoundMps
        const sum = (i: number) => {
          const [rearRe = 0, rearIm = 0] = rear.at(i) ?? []
          const [frontRe = 0, frontIm = 0] = front.at(i) ?? []
          const [cos, sin] = [Math.cos(phase), Math.sin(phase)]
          return Math.hypot(frontRe - (rearRe * cos - rearIm * sin), frontIm - (rearRe * sin + rearIm * cos))
        }
        return 20 * Math.log10(sum(0) / sum(-1))
      })
  const words = (downsDb: number[]) => `${Math.round(Math.min(...downsDb))} to ${Math.round(Math.max(...downsDb))} dB`
  // The wider pair is near half a wavelength at 100 Hz, where nothing is left in front.
  expect(lesson).toContain(
    `the wider pair is ${words(downDb(1.4, 63))} under its front, and the closer one only ${words(downDb(0.76, 100))}`,
  )
})
