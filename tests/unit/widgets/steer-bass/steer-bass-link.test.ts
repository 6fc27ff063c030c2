import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { steerProblem } from '../../../../src/engine/questions/steer/steer-check.ts'
import { arrangements } from '../../../../src/engine/questions/steer/steer-terms.ts'
import { textbookSet } from '../../../../src/engine/questions/steer/textbook-set.ts'
import { demoHallStates } from '../../../../src/engine/scene/hall-content.ts'
import { defaultState, readLink, writeLink } from '../../../../src/state/share-link.ts'
import { questionOf, setOf, stateOfSet, steerBassLink } from '../../../../src/widgets/steer-bass/steer-bass-link.ts'

const rig = JSON.parse(readFileSync(join(import.meta.dirname, '../../../../content/gear/top-over-sub.json'), 'utf8'))
const link = steerBassLink(['top-over-sub', 'compact-two-way'])
const first = defaultState(link)

test('the first state can be answered, and its delay is the one that its spacing asks for', () => {
  expect(steerProblem(questionOf(first, rig, demoHallStates))).toBeNull()
  // 343.2 m/s at 20 °C (ISO 9613-1); the delay is set to a tenth of a millisecond.
  expect(Math.abs(first.delayS - first.spacingM / 343.2)).toBeLessThan(0.00005)
})

test('a state comes back from its own link', () => {
  const state = {
    ...first,
    arrangement: 'end-fire' as const,
    count: 4,
    delayS: 0.0001,
    polarity: 'same' as const,
    place: 'hall' as const,
    hall: 'brick' as const,
    tableZM: -2.5,
    error: 'late' as const,
    frequencyHz: 50,
  }
  const params = writeLink(link, state, new URLSearchParams(), first)
  expect(params.get('steer.v')).toBe('1')
  expect(readLink(link, params, first)).toMatchObject({ state, dropped: [] })
})

test('on grass the ground is grass, and no wall is added to it', () => {
  const { surroundings, error } = questionOf({ ...first, place: 'grass', error: 'wall' }, rig, demoHallStates)
  expect(surroundings).toEqual({ kind: 'outdoors', floor: 'grass' })
  expect(error).toBe('none')
})

test('zero spacing, delays and levels out of range, more boxes than allowed and half a box are dropped and named', () => {
  const params = new URLSearchParams(
    'steer.spacingM=0&steer.delayS=0.5&steer.levelDb=40&steer.count=9&steer.frequencyHz=63.5&steer.rig=other&steer.tableZM=4',
  )
  const { state, dropped } = readLink(link, params, first)
  expect(state).toEqual(first)
  expect(dropped).toHaveLength(7)
  expect(dropped[0]).toMatch(/spacingM .*outside 0\.3 to 12 m/)
  expect(readLink(link, new URLSearchParams('steer.count=2.5'), first).dropped[0]).toMatch(/not a whole number/)
})

test('a pair is two and a trio three, whatever the link says', () => {
  expect(setOf({ ...first, count: 5 }).count).toBe(2)
  expect(setOf({ ...first, arrangement: 'trio', count: 2 }).count).toBe(3)
})

test('walls and the hall come into the question; where they are, the wall of the errors does not', () => {
  const walled = questionOf({ ...first, place: 'wall', gapM: 1.5, error: 'wall' }, rig, demoHallStates)
  expect(walled.surroundings).toEqual({ kind: 'wall', gapM: 1.5, floor: 'hard' })
  expect(walled.error).toBe('none')
  expect(questionOf({ ...first, error: 'wall' }, rig, demoHallStates).error).toBe('wall')
  expect(questionOf({ ...first, place: 'hall' }, rig, demoHallStates).surroundings.kind).toBe('hall')
})

test('a setting that is taken over can be read back from the link for every arrangement', () => {
  for (const arrangement of arrangements) {
    const count = arrangement === 'trio' ? 3 : 2
    const taken = textbookSet(
      arrangement,
      count,
      { fromHz: 40, toHz: 100 },
      { widthM: 0.56, heightM: 0.62, depthM: 0.66 },
      343.2,
    )
    const state = { ...first, ...stateOfSet(taken) }
    expect(readLink(link, writeLink(link, state, new URLSearchParams(), first), first)).toMatchObject({
      state,
      dropped: [],
    })
    expect(Math.abs(setOf(state).delayS - taken.delayS)).toBeLessThanOrEqual(0.00005 + 1e-12)
    expect(setOf(state).spacingM).toBeCloseTo(taken.spacingM, 9)
  }
})
