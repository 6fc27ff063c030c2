import * as v from 'valibot'
import { afterEach, describe, expect, test, vi } from 'vitest'
import * as edits from '../../../src/state/plan-edits.ts'
import { planFaults } from '../../../src/state/plan-faults.ts'
import { keepPlan, keptPlan, planKey, readPlan, writePlan } from '../../../src/state/plan-file.ts'
import { beginHistory, redo, rest, take, undo } from '../../../src/state/plan-history.ts'
import { mostCabinets, type Plan, planSchema } from '../../../src/state/plan-schema.ts'
import { boxesOf, known, randomEdits, smallPlan } from './plan-samples.ts'

const seeds = [1, 2, 3, 4, 5]

describe('a plan that is changed', () => {
  test('undo restores every plan that there was, exactly, and redo the way back', () => {
    for (const seed of seeds) {
      let history = beginHistory(smallPlan)
      const were = [smallPlan]
      for (const edit of randomEdits(seed, 300)) {
        history = take(history, edit(history.now))
        if (history.now !== were.at(-1)) were.push(history.now)
      }
      const last = JSON.stringify(history.now)
      for (const plan of were.toReversed()) {
        expect(history.now).toBe(plan)
        history = undo(history)
      }
      expect(undo(history)).toEqual(history)
      for (const plan of were) {
        expect(history.now).toBe(plan)
        history = redo(history)
      }
      expect(JSON.stringify(history.now)).toBe(last)
    }
  })

  test('no change alters the plan that it came from', () => {
    const before = JSON.stringify(smallPlan)
    for (const seed of seeds) randomEdits(seed, 100).reduce((plan, edit) => edit(plan), smallPlan)
    expect(JSON.stringify(smallPlan)).toBe(before)
  })

  test('every random plan passes the schema, export and import give the same', () => {
    for (const seed of seeds) {
      let plan = smallPlan
      for (const edit of randomEdits(seed, 120)) {
        plan = edit(plan)
        expect(v.is(planSchema, plan)).toBe(true)
        const sound = planFaults(plan, known).length === 0
        const read = readPlan(writePlan(plan), known)
        if (sound) expect(read).toEqual(plan)
        else expect(typeof read).toBe('string')
      }
    }
  })

  test('a drag is one step back, and a lifted hand begins another', () => {
    let history = beginHistory(smallPlan)
    for (const xM of [-2, -1, 0]) history = take(history, edits.movePlace(history.now, 'p1', { xM, zM: 8 }), 'drag p1')
    history = take(rest(history), edits.movePlace(history.now, 'p1', { xM: 1, zM: 8 }), 'drag p1')
    expect(history.before).toHaveLength(2)
    expect(undo(undo(history)).now).toBe(smallPlan)
  })

  test('boxes of one group move together, a box alone by itself', () => {
    const moved = edits.moveCabinet(smallPlan, 'c2', { xM: -3, zM: 4 })
    expect(moved.cabinets.map(({ xM, zM }) => [xM, zM])).toEqual([
      [-3, 4],
      [-3, 4],
    ])
    const alone = edits.moveCabinet(edits.changeCabinet(smallPlan, 'c1', { group: '' }), 'c2', { xM: 1, zM: 4 })
    expect(alone.cabinets.map(({ xM }) => xM)).toEqual([-2.5, 1])
  })

  test('what is duplicated has an id of its own; the last place stays; the main place is always there', () => {
    const twice = edits.duplicateCabinet(smallPlan, 'c2', 0.7)
    expect(twice.cabinets.map(({ id }) => id)).toEqual(['c1', 'c2', 'c3'])
    const one = edits.removePlace(smallPlan, 'p1')
    expect(one.mainPlace).toBe('p2')
    expect(edits.removePlace(one, 'p2')).toBe(one)
  })

  test('an own box comes with its first cabinet and goes with its last', () => {
    const box = boxesOf('column-on-base')['column-on-base/base']
    const own = { key: 'own-x/base', ...JSON.parse(JSON.stringify(box)), name: 'base' }
    delete own.frontCentre
    const like = smallPlan.cabinets[0]
    const plan = edits.addCabinet(smallPlan, { ...(like as Plan['cabinets'][0]), box: own.key }, own)
    expect(
      planFaults({ ...plan, ground: { kind: 'outdoors', lengthM: 20, widthM: 20, ground: 'grass' } }, known),
    ).toEqual([])
    expect(readPlan(writePlan(plan), known)).toEqual(plan)
    expect(edits.removeCabinet(plan, 'c3').ownBoxes).toEqual([])
  })

  test('what is slid goes as far as it may: all the way, else along the one side that is free, else it is told why not', () => {
    const to = { xM: -3, zM: 4 }
    const slid = (isFree: (plan: Plan) => boolean) =>
      edits.slideEdit(smallPlan, 'p1', to, (edit) => isFree(edit(smallPlan)))?.(smallPlan).places[0]
    const before = smallPlan.places[0]
    expect(slid(() => true)).toMatchObject(to)
    expect(slid(({ places }) => places[0]?.zM === before?.zM)).toMatchObject({ xM: -3, zM: before?.zM })
    expect(slid(({ places }) => places[0]?.xM === before?.xM)).toMatchObject({ xM: before?.xM, zM: 4 })
    expect(slid(() => false)).toMatchObject(to)
    expect(edits.slideEdit(smallPlan, 'c9', to, () => true)).toBeUndefined()
    expect(edits.slideEdit(smallPlan, 'c1', to, () => true)?.(smallPlan).cabinets[0]).toMatchObject(to)
  })
})

describe('what is wrong is told in words', () => {
  const read = (change: (plan: Plan) => unknown) => readPlan(JSON.stringify(change(structuredClone(smallPlan))), known)
  const first = smallPlan.cabinets[0] as Plan['cabinets'][0]

  test.each<[string, (plan: Plan) => unknown, RegExp]>([
    [
      'a place inside a box',
      (plan) => edits.movePlace(plan, 'p2', { xM: -2.5, zM: 2.9 }),
      /“Tables” would be inside box 1/,
    ],
    [
      'a box outside the hall',
      (plan) => edits.moveCabinet(plan, 'c1', { xM: 5.4, zM: 3 }),
      /Box 1 would stand outside the hall/,
    ],
    [
      'a box turned through the wall',
      (plan) => edits.moveCabinet(plan, 'c1', { xM: 0, zM: 0.1 }),
      /Box 1 would stand outside/,
    ],
    [
      'a box through the ceiling',
      (plan) => edits.changeCabinet(plan, 'c1', { baseM: 4.3 }),
      /Box 1 would reach through the ceiling/,
    ],
    [
      'a place outside',
      (plan) => edits.movePlace(plan, 'p1', { xM: 0, zM: 19 }),
      /“Dance floor” would be outside the hall/,
    ],
    [
      'a stage through a wall',
      (plan) => edits.setStage(plan, { xM: 0, zM: 0.5, widthM: 5, depthM: 2, heightM: 0.6 }),
      /stage would reach through/,
    ],
    ['a hall without volume', (plan) => ({ ...plan, ground: { ...plan.ground, heightM: 0 } }), /no volume/],
    [
      'a hall too low',
      (plan) => ({ ...plan, ground: { ...plan.ground, heightM: 1 } }),
      /heightM: is 1; allowed is 2.2 to 20/,
    ],
    ['too many people', (plan) => ({ ...plan, ground: { ...plan.ground, people: 500 } }), /198 at most/],
    [
      'a thousand boxes',
      (plan) => ({ ...plan, cabinets: Array.from({ length: 1000 }, () => first) }),
      new RegExp(`There are 1,?000 boxes in it; ${mostCabinets} are the most`),
    ],
    [
      'an unknown finish',
      (plan) => ({
        ...plan,
        ground: {
          ...plan.ground,
          surfaces: { ...(plan.ground.kind === 'hall' && plan.ground.surfaces), floor: 'lava' },
        },
      }),
      /“lava” is not known here; there is wood-on-studs/,
    ],
    [
      'an unknown box',
      (plan) => edits.changeCabinet(plan, 'c1', { box: 'none/none' }),
      /“none\/none” is not known here/,
    ],
    ['the same id twice', (plan) => ({ ...plan, cabinets: [first, first] }), /c1 stands for two things/],
    ['no main place', (plan) => ({ ...plan, mainPlace: 'p9' }), /is not among the places/],
    ['a newer version', (plan) => ({ ...plan, version: 2 }), /newer version/],
    ['a file of another kind', () => ({ version: 1, rigs: [] }), /another kind/],
    ['no version', (plan) => ({ ...plan, version: undefined }), /no version/],
    ['a number that is none', (plan) => ({ ...plan, programmeDbA: 'loud' }), /programmeDbA/],
  ])('%s', (_, change, words) => {
    expect(read(change)).toMatch(words)
  })

  test('what is no JSON, and what is far too long', () => {
    expect(readPlan('{"version": 1', known)).toMatch(/cannot be read as JSON/)
    expect(readPlan(' '.repeat(400_001), known)).toMatch(/too long/)
  })
})

describe('a plan on the device', () => {
  afterEach(() => vi.unstubAllGlobals())
  const device = (fails = false) => {
    vi.stubGlobal('navigator', {})
    const kept = new Map<string, string>()
    vi.stubGlobal('localStorage', {
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, text: string) => {
        if (fails) throw new Error('full')
        kept.set(key, text)
      },
    })
    return kept
  }

  test('comes back as it was', async () => {
    device()
    expect(keptPlan(known)).toEqual({ plan: undefined, problem: '' })
    expect(await keepPlan(smallPlan, known)).toBe('')
    expect(keptPlan(known)).toEqual({ plan: smallPlan, problem: '' })
  })

  test('what cannot be read is told, and set aside by the next change', async () => {
    const kept = device()
    kept.set(planKey, '{"version": 9}')
    expect(keptPlan(known).problem).toMatch(/newer version/)
    expect(await keepPlan(smallPlan, known)).toBe('')
    expect(kept.get(`${planKey}.unread.1`)).toBe('{"version": 9}')
    kept.set(planKey, 'torn')
    await keepPlan(smallPlan, known)
    expect(kept.get(`${planKey}.unread.2`)).toBe('torn')
  })

  test('a full device says so', async () => {
    device(true)
    expect(await keepPlan(smallPlan, known)).toMatch(/did not keep the plan/)
  })
})
