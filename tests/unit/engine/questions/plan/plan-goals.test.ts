import { beforeAll, describe, expect, test } from 'vitest'
import { planAnswer } from '../../../../../src/engine/questions/plan/plan.ts'
import { farthestMissed, goalResults, type PlanGoal } from '../../../../../src/engine/questions/plan/plan-goals.ts'
import { hintStepM, planHint } from '../../../../../src/engine/questions/plan/plan-hint.ts'
import type { NeighbourAnswer, PlanAnswer, PlanQuestion } from '../../../../../src/engine/questions/plan/plan-terms.ts'
import { grangeQuestion, loadGear, standing } from './plan-questions.ts'

beforeAll(loadGear)

/** An answer that says only what goals look at. */
const told = (places: Record<string, { bassDb: number; reMainDb: number; c?: number }>): PlanAnswer =>
  ({
    places: Object.entries(places).map(([id, { bassDb, reMainDb, c = 0 }]) => ({
      id,
      bassDb,
      cWeightedDb: c,
      reMain: { bassDb: reMainDb },
    })),
  }) as unknown as PlanAnswer
const outside = (cWeightedDb: number) => ({ cWeightedDb }) as NeighbourAnswer

describe('goals', () => {
  const answer = told({ p1: { bassDb: 100, reMainDb: 0 }, p2: { bassDb: 95.5, reMainDb: -4.5, c: 78 } })
  const one = (goal: Omit<PlanGoal, 'id'> | object, neighbour?: NeighbourAnswer) =>
    goalResults([{ id: 'g', ...goal } as PlanGoal], answer, neighbour)[0]

  test('count what is missing, and what is over is not missing', () => {
    expect(one({ kind: 'bassUnder', place: 'p2', limitDb: 6 })).toMatchObject({
      valueDb: 4.5,
      missingDb: 1.5,
      isMet: false,
    })
    expect(one({ kind: 'bassUnder', place: 'p2', limitDb: 4 })).toMatchObject({ missingDb: -0.5, isMet: true })
    expect(one({ kind: 'bassWithin', place: 'p2', limitDb: 3 })).toMatchObject({
      valueDb: -4.5,
      missingDb: 1.5,
      isMet: false,
    })
    expect(one({ kind: 'bassWithin', place: 'p2', limitDb: 4.5 })?.isMet).toBe(true)
    expect(one({ kind: 'bassAtLeast', place: 'p1', limitDb: 99 })).toMatchObject({ missingDb: -1, isMet: true })
    expect(one({ kind: 'levelAtMost', place: 'p2', limitDb: 77 })).toMatchObject({ missingDb: 1, isMet: false })
    expect(one({ kind: 'neighbourAtMost', limitDb: 70 }, outside(69))).toMatchObject({ missingDb: -1, isMet: true })
  })

  test('that cannot be told are refused by name', () => {
    expect(() => one({ kind: 'bassUnder', place: 'p9', limitDb: 6 })).toThrow(/p9/)
    expect(() => one({ kind: 'neighbourAtMost', limitDb: 70 })).toThrow(/neighbour/)
  })

  test('are looked at where most is missing', () => {
    const results = goalResults(
      [
        { id: 'a', kind: 'bassUnder', place: 'p2', limitDb: 6 },
        { id: 'b', kind: 'levelAtMost', place: 'p2', limitDb: 70 },
        { id: 'c', kind: 'bassAtLeast', place: 'p1', limitDb: 99 },
      ],
      answer,
      undefined,
    )
    expect(farthestMissed(results)?.goal.id).toBe('b')
    expect(farthestMissed(results.filter(({ isMet }) => isMet))).toBeUndefined()
  })
})

describe('what makes the bass at a place', () => {
  /** Two subs as far from a place as each other, outdoors on hard ground. */
  const twins = (delayS: number): PlanQuestion => ({
    ...grangeQuestion,
    surroundings: { kind: 'outdoors', ground: 'hard' },
    cabinets: [standing('c1', 'sub', { xM: -2, zM: 5 }), standing('c2', 'sub', { xM: 2, zM: 5, delayS })],
    places: [{ id: 'p1', xM: 0, zM: 12, earM: 1.6 }],
  })

  test('two equal boxes in step are 3 dB over their powers, and each alone 6 dB under both', () => {
    const hint = planHint({ ...twins(0), placeId: 'p1' })
    expect(hint.inStepDb).toBeCloseTo(10 * Math.log10(2), 6)
    for (const { aloneDb } of hint.boxes) expect(aloneDb).toBeCloseTo(-20 * Math.log10(2), 6)
  })

  test('a delay puts them out of step', () => {
    expect(planHint({ ...twins(0.006), placeId: 'p1' }).inStepDb).toBeLessThan(0)
  })

  test('a step aside is what the plan gives with the place moved there', () => {
    const question = { ...grangeQuestion, placeId: 'p2' }
    const { least } = planHint(question)
    const moved = {
      ...grangeQuestion,
      places: grangeQuestion.places.map((place) =>
        place.id === 'p2' ? { ...place, xM: least?.xM ?? 0, zM: least?.zM ?? 0 } : place,
      ),
    }
    const bassAt = (asked: PlanQuestion) => planAnswer(asked).places.find(({ id }) => id === 'p2')?.bassDb ?? 0
    expect(least?.byDb).toBeCloseTo(bassAt(moved) - bassAt(grangeQuestion), 9)
    const here = grangeQuestion.places[1]
    expect(Math.hypot((least?.xM ?? 0) - (here?.xM ?? 0), (least?.zM ?? 0) - (here?.zM ?? 0))).toBeCloseTo(hintStepM, 9)
  })

  test('no step leads into a box or out of the hall', () => {
    const corner = { ...grangeQuestion, places: [{ id: 'p1', xM: -5.2, zM: 0.6, earM: 1.2 }], placeId: 'p1' }
    const { least, most } = planHint(corner)
    for (const spot of [least, most]) {
      expect(spot?.xM).toBeGreaterThanOrEqual(-5)
      expect(spot?.zM).toBeGreaterThanOrEqual(0.5)
    }
    expect(() => planHint({ ...grangeQuestion, placeId: 'p9' })).toThrow(/p9/)
  })
})
