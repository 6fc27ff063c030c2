import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Rig } from '../../../../src/acoustics/index.ts'
import { planAnswer } from '../../../../src/engine/questions/plan/plan.ts'
import { planGain } from '../../../../src/engine/questions/plan/plan-gain.ts'
import type { PlanAnswer, PlanQuestion } from '../../../../src/engine/questions/plan/plan-terms.ts'
import { loadSolvedRig } from '../../../../src/engine/scene/solved-gear.ts'
import * as edits from '../../../../src/state/plan-edits.ts'
import { planFaults } from '../../../../src/state/plan-faults.ts'
import type { Plan } from '../../../../src/state/plan-schema.ts'
import { bestOfEach, foundMoves, gainWords, moveWords } from '../../../../src/widgets/plan/found-moves.ts'
import { grangePlan } from '../../../../src/widgets/plan/grange-plan.ts'
import { planMoves } from '../../../../src/widgets/plan/plan-moves.ts'
import { offeredBoxes, planKnown, planQuestion } from '../../../../src/widgets/plan/plan-question.ts'
import { randomEdits } from '../../state/plan-samples.ts'

const { short, description, ...file } = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
const rig = { name: 'top-over-sub', cabinets: file.cabinets } as Rig
const boxes = offeredBoxes([{ key: 'top-over-sub', short, description, rig }])
const known = planKnown(boxes)
beforeAll(() => loadSolvedRig(rig))

/** Outdoors, where a plan is quickly worked out. */
const openPlan = (): Plan =>
  edits.setNeighbour(edits.setGround(grangePlan(), { kind: 'outdoors', lengthM: 18, widthM: 11, ground: 'hard' }), null)

/** The engine of one thread, from last to first, as two workers may hand answers on in any order. */
const asking = {
  progress: () => {},
  askEach: async (_task: string, questions: PlanQuestion[], onAnswer: (answer: PlanAnswer, index: number) => void) => {
    for (const [index, question] of [...questions.entries()].reverse()) onAnswer(planAnswer(question), index)
    return true
  },
} as unknown as Parameters<typeof foundMoves>[0]

describe('what to move', () => {
  test('every move leaves a sound plan, and another one', () => {
    for (const seed of [1, 2, 3]) {
      let plan = grangePlan()
      for (const edit of randomEdits(seed, 60)) {
        const next = edit(plan)
        if (planFaults(next, known).length > 0) continue
        plan = next
        for (const move of planMoves(plan, boxes, known, plan.places.at(-1)?.id ?? '')) {
          expect(planFaults(move.plan, known)).toEqual([])
          expect(move.plan).not.toEqual(plan)
        }
      }
    }
  })

  test('the delay of a pair is the way of the sound between its boxes, in the air of the site', () => {
    const delayMsIn = (air?: { temperatureC: number; humidityPct: number }) => {
      const plan = grangePlan()
      const pair = planMoves(plan, boxes, known, 'p2', air).find(({ kind }) => kind === 'pair')
      const changed = pair?.plan.cabinets.find(
        ({ id, delayMs }) => delayMs !== plan.cabinets.find((was) => was.id === id)?.delayMs,
      )
      return { delayMs: changed?.delayMs ?? Number.NaN, wayM: pair?.amount ?? Number.NaN }
    }
    // 331.3 √(1 + θ/273.15) m/s, dry air (Kinsler et al. 2000): the hundredth of a millisecond that is set, and 0.4 % for humidity.
    for (const temperatureC of [-5, 20, 40]) {
      const { delayMs, wayM } = delayMsIn({ temperatureC, humidityPct: 50 })
      const dryMs = (1000 * wayM) / (331.3 * Math.sqrt(1 + temperatureC / 273.15))
      expect(Math.abs(delayMs - dryMs)).toBeLessThan(0.005 + 0.004 * dryMs)
    }
    expect(delayMsIn()).toEqual(delayMsIn({ temperatureC: 20, humidityPct: 50 }))
  })

  test('every kind of move is among those of the plan that the page begins with', () => {
    const kinds = new Set(planMoves(grangePlan(), boxes, known, 'p2').map(({ kind }) => kind))
    expect([...kinds].sort()).toEqual(
      ['addRear', 'apart', 'forward', 'lower', 'pair', 'place', 'raise', 'together', 'turnSubs', 'turnTops'].filter(
        // Twice as far apart the subs would stand in the walls.
        (kind) => kind !== 'apart',
      ),
    )
  })

  test('what a move claims is what the plan that it leads to computes anew, and the best stands first', async () => {
    const plan = openPlan()
    const found = (await foundMoves(asking, { plan, placeId: 'p2' }, boxes, known)) ?? []
    expect(found.length).toBeGreaterThan(10)
    const before = planAnswer(structuredClone(planQuestion(plan, boxes)))
    for (const move of found) {
      const after = planAnswer(structuredClone(planQuestion(move.plan, boxes)))
      const bass = (answer: PlanAnswer, id: string) => answer.places.find((place) => place.id === id)?.bassDb as number
      expect(move.gainDb).toBeCloseTo(bass(before, 'p2') - bass(after, 'p2'), 9)
      for (const { id, bassDb } of move.elsewhere) expect(bassDb).toBeCloseTo(bass(after, id) - bass(before, id), 9)
    }
    const scores = found.map(({ scoreDb }) => scoreDb)
    expect(scores).toEqual([...scores].sort((a, b) => b - a))
    for (const move of bestOfEach(found)) {
      expect(move.isWorthwhile).toBe(move.scoreDb >= 2)
      expect(moveWords(move, plan, 'm')).not.toBe('')
      expect(gainWords(move, plan, 'p2')).toMatch(/^Quiet table: bass .* dB\. Dance floor: bass/)
    }
  })

  test('turning the subs down costs the dance floor what it gains, and is not worth it', async () => {
    const found = (await foundMoves(asking, { plan: openPlan(), placeId: 'p2' }, boxes, known)) ?? []
    const lower = found.filter(({ kind }) => kind === 'lower')
    expect(lower).toHaveLength(2)
    expect(bestOfEach(found).some(({ kind, isWorthwhile }) => kind === 'lower' && isWorthwhile)).toBe(false)
  })

  test('harm is bass that the main place loses and others gain', () => {
    const answer = (main: number, quiet: number, bar: number) =>
      ({
        places: [main, quiet, bar].map((bassDb, i) => ({ id: `p${i}`, bassDb, trebleDb: 0 })),
      }) as unknown as PlanAnswer
    const before = answer(90, 85, 80)
    expect(planGain(before, answer(90, 80, 80), 'p1', 'p0')).toMatchObject({ gainDb: 5, scoreDb: 5 })
    expect(planGain(before, answer(87, 80, 80), 'p1', 'p0').scoreDb).toBe(2)
    expect(planGain(before, answer(93, 80, 84), 'p1', 'p0').scoreDb).toBe(1)
    expect(() => planGain(before, before, 'p9', 'p0')).toThrow(/p9/)
  })

  test('without an answer to every move there is no list', async () => {
    const ended = { ...asking, askEach: async () => false } as unknown as Parameters<typeof foundMoves>[0]
    expect(await foundMoves(ended, { plan: openPlan(), placeId: 'p2' }, boxes, known)).toBeUndefined()
  })
})
