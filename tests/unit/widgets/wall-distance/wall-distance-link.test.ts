import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import {
  firstWallState,
  lessonGapM,
  questionOf,
  wallDistanceLink,
} from '../../../../src/widgets/wall-distance/wall-distance-link.ts'

const rig = JSON.parse(readFileSync(join(import.meta.dirname, '../../../../content/gear/top-over-sub.json'), 'utf8'))
const link = wallDistanceLink(['top-over-sub', 'compact-two-way'])
const first = firstWallState(['top-over-sub', 'compact-two-way'], rig)

test('the first state is the case of the lesson: 1.7 m from the front face to the wall, at half a wave', () => {
  expect(lessonGapM(rig) + 0.66).toBeCloseTo(1.7, 9)
  expect(first.gapM).toBe(lessonGapM(rig))
})

test('a link of version 1 opens in the case that pages began with then, where it says nothing else', () => {
  const { state } = readLink(link, new URLSearchParams('wall.v=1&wall.frontM=3'), first)
  expect(state).toMatchObject({ gapM: 1.78, frequencyHz: 35, frontM: 3 })
  const again = readLink(link, writeLink(link, state, new URLSearchParams(), first), first)
  expect(again).toMatchObject({ state, dropped: [] })
  expect(readLink(link, new URLSearchParams('wall.v=2&wall.frontM=3'), first).state).toMatchObject({ gapM: first.gapM })
})

test('a state comes back from its own link', () => {
  const state = { ...first, gapM: 0.6, floor: 'with' as const, side: 'with' as const, frequencyHz: 62 }
  const params = writeLink(link, state, new URLSearchParams(), first)
  expect(readLink(link, params, first)).toMatchObject({ state, dropped: [] })
})

test('the floor is left out, concrete or grass', () => {
  const floorOf = (floor: typeof first.floor) => questionOf({ ...first, floor }, rig).surroundings.floor
  expect([floorOf('without'), floorOf('with'), floorOf('grass')]).toEqual([undefined, 'concrete', 'grass'])
  const params = writeLink(link, { ...first, floor: 'grass' }, new URLSearchParams(), first)
  expect(readLink(link, params, first).state.floor).toBe('grass')
})

test('a box through the wall, a frequency between the steps and an unknown rig are dropped and named', () => {
  const params = new URLSearchParams(
    'wall.gapM=-1&wall.frequencyHz=70.5&wall.rig=other&wall.frontM=900&wall.finish=gold',
  )
  const { state, dropped } = readLink(link, params, first)
  expect(state).toEqual(first)
  expect(dropped).toHaveLength(5)
  expect(dropped[0]).toMatch(/gapM .*outside 0.05 to 6 m/)
})

test('a place behind that is inside the box stops at its back', () => {
  const { state } = readLink(link, new URLSearchParams('wall.gapM=0.1&wall.fromWallM=3'), first)
  expect(state.fromWallM).toBe(3)
  expect(questionOf(state, rig).fromWallM).toBe(0.1)
  expect(questionOf(state, rig).surroundings.sideGapM).toBeNull()
})
