import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { amplitudeRatio, levelDb, makeAir, type Rig } from '../../../../../src/acoustics/index.ts'
import { steerAnswer } from '../../../../../src/engine/questions/steer/steer.ts'
import { boxPlaces, sizeOf } from '../../../../../src/engine/questions/steer/steer-boxes.ts'
import { steerProblem } from '../../../../../src/engine/questions/steer/steer-check.ts'
import {
  type Arrangement,
  listeningRow,
  type SheetLine,
  type SteerQuestion,
  type SteerSet,
  type SteerTogether,
  steerLinesHz,
  steerRange,
  trimRange,
  usableRule,
} from '../../../../../src/engine/questions/steer/steer-terms.ts'
import {
  steerTogether,
  steerTogetherPlan,
  steerTogetherStep,
} from '../../../../../src/engine/questions/steer/steer-together.ts'
import { textbookSet } from '../../../../../src/engine/questions/steer/textbook-set.ts'
import type { SteerTogetherSolved } from '../../../../../src/engine/questions/steer/together-lines.ts'
import { evenHall } from '../../../../../src/engine/scene/hall-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'

const c = makeAir().speedOfSoundMps
const rig: Rig = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8'),
)
await loadSolvedRig(rig)

function ask(
  arrangement: Arrangement,
  change: Partial<SteerQuestion> = {},
  set: Partial<SteerSet> = {},
): SteerQuestion {
  const band = { fromHz: 40, toHz: 100 }
  const count = arrangement === 'trio' ? 3 : 2
  return {
    rig,
    point: false,
    surroundings: { kind: 'outdoors', floor: 'hard' },
    front: { xM: 0.5, zM: 5 },
    behind: { xM: 0, zM: -4 },
    band,
    frequencyHz: 63,
    error: 'none',
    ...change,
    set: { ...textbookSet(arrangement, count, band, sizeOf({ rig, point: false }), c), ...set },
  }
}
const solve = (question: SteerQuestion) => steerTogetherPlan(question).map((step) => steerTogetherStep(step))

type Solved = Extract<SteerTogether, { kind: 'solved' }>
function answer(question: SteerQuestion, steps = solve(question)): Solved {
  const result = steerTogether({ ...question, steps })
  if (result.kind !== 'solved') throw new Error(result.kind)
  return result
}

const close = ask('pair', {}, { spacingM: 0.75, delayS: 0.75 / c })
const closeSteps = solve(close)

/** What every trim must keep. */
function expectSound(question: SteerQuestion, { together, trimmed }: Solved): void {
  expect(together.set).toEqual(question.set)
  const { delayS, levelDb: level, ...kept } = trimmed.set
  const { delayS: delayBefore, levelDb: levelBefore, ...before } = question.set
  expect(kept).toEqual(before)
  expect(Math.abs(delayS - delayBefore)).toBeLessThanOrEqual(trimRange.delayS + 1e-9)
  expect(Math.abs(level - levelBefore)).toBeLessThanOrEqual(trimRange.levelDb + 1e-9)
  for (const [value, { min, max }] of [
    [delayS, steerRange.delayS],
    [level, steerRange.levelDb],
  ] as const) {
    expect(value).toBeGreaterThanOrEqual(min)
    expect(value).toBeLessThanOrEqual(max)
  }
  expect(steerProblem({ ...question, set: trimmed.set })).toBeNull()
  expect(trimmed.merits.rejectionDb).toBeGreaterThanOrEqual(together.merits.rejectionDb)
  expect(trimmed.merits.frontLossDb).toBeLessThanOrEqual(
    Math.max(usableRule.frontLossDb, together.merits.frontLossDb + Math.max(0, question.set.levelDb)) + 1e-6,
  )
}

describe('boxes solved together', () => {
  test('a close pair keeps far less than each box alone says, and fits better with more delay', () => {
    const result = answer(close, closeSteps)
    const { alone, together, trimmed } = result
    // The figure's own numbers stand beside them.
    expect(alone.merits).toEqual(steerAnswer(close).merits)
    expect(together.merits.rejectionDb).toBeLessThan(alone.merits.rejectionDb - 3)
    expect(trimmed.set.delayS).toBeGreaterThan(close.set.delayS + 0.0004)
    expect(trimmed.merits.rejectionDb).toBeGreaterThan(together.merits.rejectionDb + 6)
    expectSound(close, result)
  })

  test('the answer is the same every time, whatever the order of the steps', () => {
    const [first, second] = [answer(close, closeSteps), answer(close, closeSteps.toReversed())]
    expect(second).toEqual(first)
    const step = steerTogetherPlan(close)[5]
    expect(step && steerTogetherStep(step)).toEqual(closeSteps[5])
  })

  test('the trimmed setting solved anew is what was said', () => {
    const { trimmed } = answer(close, closeSteps)
    // Boxes stay where they are, so the same steps hold.
    expect(answer({ ...close, set: trimmed.set }, closeSteps).together.merits).toEqual(trimmed.merits)
  })

  test('lines between those that are solved are what solving them gives', () => {
    const questions = [close, ask('left-right', { behind: { xM: 1, zM: -4 } })]
    for (const question of questions) {
      const plan = steerTogetherPlan(question)
      const { curves } = answer(question, question === close ? closeSteps : undefined)
      const known = new Set(plan.map(({ solvedHz }) => solvedHz))
      const between = [15, 39, 53, 69].filter((line) => !known.has(steerLinesHz[line] as number))
      expect(between.length).toBeGreaterThan(1)
      for (const line of between) {
        const hz = steerLinesHz[line] as number
        const solved = steerTogetherStep({ ...(plan[0] as (typeof plan)[number]), solvedHz: hz })
        const { front, behind } = direct(solved, boxPlaces(question.set, sizeOf(question)))
        expect(Math.abs((curves.frontDb[line] as number) - front), `${hz} Hz`).toBeLessThan(0.1)
        expect(Math.abs((curves.behindDb[line] as number) - behind), `${hz} Hz`).toBeLessThan(0.1)
      }
    }
  })

  test.each([0.5, 2, 6])('before a wall %s m behind, too', (gapM) => {
    const surroundings = { kind: 'wall', gapM, floor: 'hard' } as const
    const walled = { ...close, behind: { xM: 1.6, zM: -1.2 }, surroundings }
    const plan = steerTogetherPlan(walled)
    const { curves } = answer(walled)
    const known = new Set(plan.map(({ solvedHz }) => solvedHz))
    const between = [10, 15, 27, 39, 53, 61, 69].filter((line) => !known.has(steerLinesHz[line] as number))
    expect(between.length).toBeGreaterThan(1)
    for (const line of between) {
      const hz = steerLinesHz[line] as number
      const solved = steerTogetherStep({ ...(plan[0] as (typeof plan)[number]), solvedHz: hz })
      const sheet = boxPlaces(walled.set, sizeOf(walled))
      const { front, behind } = direct({ ...solved, ...solved.walled }, sheet, solved.stack)
      expect(Math.abs((curves.frontDb[line] as number) - front), `${hz} Hz`).toBeLessThan(0.1)
      expect(Math.abs((curves.behindDb[line] as number) - behind), `${hz} Hz`).toBeLessThan(0.1)
    }
  })

  test('a wall behind is heard, and its image of the boxes stands in the way', () => {
    const walled = { ...close, surroundings: { kind: 'wall', gapM: 4, floor: 'hard' } as const }
    const result = answer(walled)
    expectSound(walled, result)
    expect(result.alone.merits).toEqual(steerAnswer(walled).merits)
    expect(result.together.merits.rejectionDb).not.toBeCloseTo(answer(close, closeSteps).together.merits.rejectionDb, 1)
  })

  test('a hall is left out: all is as outdoors', () => {
    const hall = { kind: 'hall', design: evenHall({ lengthM: 16, widthM: 12, heightM: 4 }, 0.25) } as const
    const inside = { ...close, front: { xM: 0.5, zM: 4 }, behind: { xM: 0, zM: -2.6 }, surroundings: hall }
    expect(steerProblem(inside)).toBeNull()
    const outside = { ...inside, surroundings: { kind: 'outdoors', floor: 'hard' } as const }
    expect(steerTogetherPlan(inside)).toEqual(steerTogetherPlan(outside))
    expect(answer(inside, closeSteps)).toEqual(answer(outside, closeSteps))
  })

  test('an error of the question changes nothing: the set is solved as it stands', () => {
    expect(answer({ ...close, error: 'late' }, closeSteps)).toEqual(answer(close, closeSteps))
  })

  test('a trio whose boxes touch is one body, and its trim keeps the rules', () => {
    const trio = ask('trio', {}, { spacingM: 0.66, delayS: 0.66 / c })
    const result = answer(trio)
    expectSound(trio, result)
    expect(result.trimmed.merits.rejectionDb).toBeGreaterThan(result.alone.merits.rejectionDb)
  })

  test('points have nothing to solve, and boxes that nearly touch are told the room that they need', () => {
    const points = { ...close, point: true }
    expect(steerTogetherPlan(points)).toEqual([])
    expect(steerTogether({ ...points, steps: [] })).toEqual({ kind: 'points' })
    const touching = ask('row', {}, { spacingM: 0.565 })
    expect(steerTogetherPlan(touching)).toEqual([])
    expect(steerTogether({ ...touching, steps: [] })).toMatchObject({ kind: 'too-close', neededM: 0.01 })
  })

  test('what is asked wrongly is refused in plain words', () => {
    expect(() => steerTogetherPlan({ ...close, set: { ...close.set, spacingM: 0.3 } })).toThrow(/stand in each other/)
    expect(() => steerTogetherPlan({ ...close, front: { xM: 0, zM: Number.NaN } })).toThrow(/front\.zM is NaN/)
    expect(() => steerTogether({ ...close, steps: closeSteps.slice(1) })).toThrow(/steps\.length/)
    const wrong = closeSteps.map((step, i) => (i === 3 ? { ...step, solvedHz: 51 } : step))
    expect(() => steerTogether({ ...close, steps: wrong })).toThrow(/steps\[\d\]\.solvedHz is/)
  })
})

/** Levels of a set in front and behind from one solved frequency, dB re the stack in front. */
function direct({ solvedHz, set, stack }: SteerTogetherSolved, sheet: SheetLine[], openStack = stack) {
  const { spots } = listeningRow
  const square = (boxes: typeof set, drives: Pick<SheetLine, 'delayS' | 'polarity' | 'levelDb'>[], from: number) => {
    let sum = 0
    for (let spot = from; spot < from + spots; spot++) {
      let [re, im] = [0, 0]
      for (const [box, pressures] of boxes.entries()) {
        const { delayS, polarity, levelDb: dB } = drives[box] as SheetLine
        const p = pressures[spot] as { re: number; im: number }
        const [cos, sin] = [Math.cos(2 * Math.PI * solvedHz * delayS), -Math.sin(2 * Math.PI * solvedHz * delayS)]
        re += polarity * amplitudeRatio(dB) * (p.re * cos - p.im * sin)
        im += polarity * amplitudeRatio(dB) * (p.re * sin + p.im * cos)
      }
      sum += re * re + im * im
    }
    return sum
  }
  const reference = square([openStack], [{ delayS: 0, polarity: 1, levelDb: 0 }], 0)
  return { front: levelDb(square(set, sheet, 0) / reference), behind: levelDb(square(set, sheet, spots) / reference) }
}
