import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { checkRig, type Rig } from '../../../../src/acoustics/index.ts'
import { addCabinet, duplicateCabinet, removeCabinet } from '../../../../src/state/plan-edits.ts'
import { planFaults } from '../../../../src/state/plan-faults.ts'
import { readPlan, writePlan } from '../../../../src/state/plan-file.ts'
import { mostOwnBoxes, type Plan } from '../../../../src/state/plan-schema.ts'
import { boxForPlan, type OwnOffer, ownOffers, rigToSolve } from '../../../../src/widgets/plan/own-boxes.ts'
import { planQuestion } from '../../../../src/widgets/plan/plan-question.ts'
import { known, smallPlan } from '../../state/plan-samples.ts'

const gear = (name: string): Rig => {
  const { cabinets } = JSON.parse(readFileSync(`content/gear/${name}.json`, 'utf8'))
  return { name, cabinets }
}
const offers = ownOffers([
  { key: 'own-a', name: 'Our  stack\u202e', rig: gear('column-on-base') },
  { key: 'own-b', name: 'Small one', rig: gear('compact-two-way') },
])
const [column, base, small] = offers as [OwnOffer, OwnOffer, OwnOffer]
const at = { xM: 1, zM: 3, baseM: 0, yawDeg: 0, levelDb: 0, delayMs: 0, inverted: false, group: '' }
const withBox = (plan: Plan, offer: OwnOffer): Plan => {
  const own = boxForPlan(plan, offer)
  return addCabinet(plan, { ...at, box: own.key }, own)
}

describe('own boxes in a plan', () => {
  test('every cabinet of a kept rig is on offer under a key of its own, with words that are fit to be shown', () => {
    expect(offers.map(({ key }) => key)).toEqual(['own-a/column', 'own-a/base', 'own-b/compact'])
    expect(column.name).toMatch(/^My box: Our stack: /)
    expect(small.name).toBe('My box: Small one')
  })

  test('a plan holds the design: in its file and back, known to a device that keeps no rig', () => {
    const plan = withBox(withBox(smallPlan, small), column)
    expect(planFaults(plan, known)).toEqual([])
    expect(readPlan(writePlan(plan), known)).toEqual(plan)
    const { boxes, cabinets } = planQuestion(plan, [])
    expect(boxes['own-b/compact']?.ways).toEqual(gear('compact-two-way').cabinets[0]?.ways)
    expect(cabinets.map(({ box }) => box)).toContain('own-a/column')
  })

  test('the same design stands in a plan once; one that was changed since comes beside it and changes nothing of it', () => {
    const once = withBox(smallPlan, small)
    const renamed = { ...small, name: 'My box: Tiny' }
    expect(boxForPlan(once, renamed).key).toBe('own-b/compact')
    const deeper = { ...small, depthM: small.depthM + 0.1 }
    const both = withBox(once, deeper)
    expect(both.ownBoxes.map(({ key, depthM }) => [key, depthM])).toEqual([
      ['own-b/compact', small.depthM],
      ['own-b/compact-2', small.depthM + 0.1],
    ])
    expect(both.cabinets.at(-1)?.box).toBe('own-b/compact-2')
    expect(removeCabinet(both, both.cabinets.at(-1)?.id ?? '').ownBoxes).toEqual(once.ownBoxes)
  })

  test('what is to be solved does not hang on where a box stands, how it is called, or how many there are', () => {
    expect(rigToSolve(smallPlan)).toBeUndefined()
    const plan = withBox(withBox(smallPlan, small), base)
    const rig = rigToSolve(plan)
    expect(() => checkRig(rig as Rig)).not.toThrow()
    expect(rig?.cabinets).toHaveLength(2)
    const twice = duplicateCabinet(plan, plan.cabinets.at(-1)?.id ?? '', 0.7)
    expect(rigToSolve(twice)).toEqual(rig)
    const named = { ...plan, ownBoxes: plan.ownBoxes.map((box) => ({ ...box, name: 'x' })) }
    expect(rigToSolve(named)).toEqual(rig)
  })

  test('more kinds than a plan holds are told', () => {
    const many = Array.from({ length: mostOwnBoxes + 1 }, (_, i) => ({ ...small, depthM: 0.3 + i / 100 })).reduce(
      withBox,
      smallPlan,
    )
    expect(planFaults(many, known)[0]).toMatch(/12 kinds of boxes of your own/)
    expect(typeof readPlan(writePlan(many), known)).toBe('string')
  })
})
