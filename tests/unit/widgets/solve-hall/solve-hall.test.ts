import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Rig } from '../../../../src/acoustics/index.ts'
import { lessonHall, lessonHallKeys } from '../../../../src/engine/questions/plan/lesson-halls.ts'
import { planAnswer } from '../../../../src/engine/questions/plan/plan.ts'
import { type GoalResult, goalResults } from '../../../../src/engine/questions/plan/plan-goals.ts'
import type { PlanHint } from '../../../../src/engine/questions/plan/plan-hint.ts'
import { planNeighbour } from '../../../../src/engine/questions/plan/plan-neighbour.ts'
import type { PlanAnswer } from '../../../../src/engine/questions/plan/plan-terms.ts'
import { loadSolvedRig } from '../../../../src/engine/scene/solved-gear.ts'
import { planFaults } from '../../../../src/state/plan-faults.ts'
import { readPlan, writePlan } from '../../../../src/state/plan-file.ts'
import type { Plan } from '../../../../src/state/plan-schema.ts'
import { neighbourQuestion, offeredBoxes, planKnown, planQuestion } from '../../../../src/widgets/plan/plan-question.ts'
import { goalWords, hintWords, solveTitle, valueWords } from '../../../../src/widgets/solve-hall/describe-solve-hall.ts'
import { lessonPlan, solvedPlan, whyWords } from '../../../../src/widgets/solve-hall/lesson-plans.ts'

const { short, description, ...gear } = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
const rig: Rig = { name: 'top-over-sub', cabinets: gear.cabinets }
const boxes = offeredBoxes([{ key: rig.name, short, description, rig }])
const known = planKnown(boxes)
beforeAll(() => loadSolvedRig(rig))

const resultsOf = (key: (typeof lessonHallKeys)[number], plan: Plan): GoalResult[] => {
  const through = neighbourQuestion(plan, boxes)
  return goalResults(lessonHall(key).goals, planAnswer(planQuestion(plan, boxes)), through && planNeighbour(through))
}

describe.each(lessonHallKeys)('%s', (key) => {
  const begin = lessonPlan(key)
  const solved = solvedPlan(key)

  test('and its solution are sound plans that a file brings back', () => {
    for (const plan of [begin, solved]) {
      expect(planFaults(plan, known)).toEqual([])
      expect(readPlan(writePlan(plan), known)).toEqual(plan)
    }
  })

  test('is not solved as it begins, and what it begins with is not all wrong', () => {
    const met = resultsOf(key, begin).map(({ isMet }) => isMet)
    expect(met).toContain(false)
    expect(met).toContain(true)
  })

  test('can be solved with its own boxes, and by more than the rounding', () => {
    for (const { goal, missingDb } of resultsOf(key, solved)) expect(missingDb, goal.id).toBeLessThan(-0.2)
    const kinds = (plan: Plan) => plan.cabinets.map(({ id, box }) => `${id} ${box}`)
    expect(kinds(solved)).toEqual(kinds(begin))
    const { movable } = lessonHall(key)
    for (const place of solved.places) if (!movable.includes(place.id)) expect(begin.places).toContainEqual(place)
    expect(solved.ground).toEqual(begin.ground)
    expect(solved.programmeDbA).toBe(begin.programmeDbA)
  })

  test('turning the subs down alone does not solve it', () => {
    for (const levelDb of [-3, -6, -9]) {
      const cabinets = begin.cabinets.map((box) => (box.box.endsWith('sub') ? { ...box, levelDb } : box))
      expect(
        resultsOf(key, { ...begin, cabinets }).every(({ isMet }) => isMet),
        `${levelDb} dB`,
      ).toBe(false)
    }
  })

  test('says what is wanted, why, and what there is', () => {
    const results = resultsOf(key, begin)
    for (const result of results) {
      for (const words of [goalWords(result.goal, begin), valueWords(result), whyWords(key, result.goal)])
        expect(words).toMatch(/\S{2}/)
      expect(goalWords(result.goal, begin)).not.toMatch(/undefined|NaN|“”/)
    }
    expect(solveTitle(key, results)).toMatch(/of \d met$/)
    expect(
      solveTitle(
        key,
        results.map((result) => ({ ...result, isMet: true })),
      ),
    ).toMatch(/all \d met$/)
  })
})

describe('what to look at next', () => {
  const plan = lessonPlan('barn')
  const hint: PlanHint = {
    boxes: [
      { id: 'c3', aloneDb: -2 },
      { id: 'c4', aloneDb: -9 },
    ],
    inStepDb: 0,
    least: { xM: 1.5, zM: 1, byDb: -3.4 },
    most: null,
  }
  const answer = {} as PlanAnswer
  const [table, far, floor] = lessonHall('barn').goals
  const missed = (goal: typeof table, valueDb: number): GoalResult[] =>
    goal ? [{ goal, valueDb, missingDb: 4, isMet: false }] : []
  const words = (results: GoalResult[], more: Partial<PlanHint> = {}, units: 'm' | 'ft' = 'm') =>
    hintWords('barn', plan, results, { answer, neighbour: undefined, hint: { ...hint, ...more } }, units)

  test('is the place first where a step aside gains enough', () => {
    expect(words(missed(table, 2))).toBe(
      'Supper table: a step of 1.5 m down on the drawing has 3 dB less bass. Ask first whether it can move.',
    )
    expect(words(missed(table, 2), {}, 'ft')).toContain('ft')
  })
  test('is the loudest box where it does not, or both where they are alike', () => {
    expect(words(missed(table, 2), { least: null })).toMatch(/^Supper table: box 3 brings most/)
    const alike = {
      least: null,
      inStepDb: 2.6,
      boxes: [
        { id: 'c4', aloneDb: -5 },
        { id: 'c3', aloneDb: -5.5 },
      ],
    }
    expect(words(missed(table, 2), alike)).toMatch(/^Supper table: boxes 3 and 4 .* 3 dB louder .* in step/)
    expect(words(missed(table, 2), { ...alike, inStepDb: 0 })).not.toContain('in step')
  })
  test('is what cancels where there is too little, else the level or the way', () => {
    expect(words(missed(far, -7), { inStepDb: -3 })).toMatch(/^Far end: the boxes cancel one another there, by 3 dB/)
    expect(words(missed(far, -7))).toMatch(/4 dB missing\. It is far/)
    expect(words(missed(floor, 95))).toMatch(/^Dance floor: 4 dB of bass missing, and nothing cancels/)
    // Too much of it at a place that may not move.
    expect(words(missed(far, 7))).toMatch(/box 3 brings most/)
  })
  test('is the way out for a neighbour, and nothing once all is met', () => {
    const [neighbour] = lessonHall('vault').goals
    const told = { aWeightedDb: 40, cWeightedDb: 75, ways: { wall: 60, roof: 70, door: 50 }, strongestHz: 50 }
    expect(
      hintWords('vault', lessonPlan('vault'), missed(neighbour, 75), { answer, neighbour: told, hint: undefined }, 'm'),
    ).toMatch(/4 dB too much.*through the roof/)
    expect(words([])).toMatch(/^Nothing is left/)
  })
})
