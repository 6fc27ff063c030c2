import { describe, expect, test } from 'vitest'
import { demoHallStates } from '../../../../src/engine/scene/hall-content.ts'
import {
  clampedPlace,
  floorOf,
  furnitureFor,
  planExtent,
  spreadOut,
  stackBodies,
} from '../../../../src/widgets/steer-bass/steer-plan-places.ts'

const design = demoHallStates[0]?.design
if (!design) throw new Error('no hall')
const hall = { kind: 'hall' as const, design }
const outdoors = { kind: 'outdoors' as const, floor: 'hard' as const }

test('the plan of a hall is the hall, wherever the set stands in it', () => {
  for (const arrangement of ['pair', 'row'] as const) {
    const { xMinM, xMaxM, zMinM, zMaxM } = planExtent(hall, arrangement)
    expect([xMaxM - xMinM, zMaxM - zMinM]).toEqual([11, 18])
  }
  const [pair, row] = [furnitureFor('pair')[0], furnitureFor('row')[0]]
  // A row stands 2.5 m to the right of the rig's place and 1.5 m farther forward.
  expect((pair?.xMinM ?? 0) - (row?.xMinM ?? 0)).toBeCloseTo(2.5, 9)
  expect((pair?.zMinM ?? 0) - (row?.zMinM ?? 0)).toBeCloseTo(1.5, 9)
})

describe('a dragged place', () => {
  test('keeps its range outdoors', () => {
    expect(clampedPlace('front', { xM: 0.512, zM: 30 }, outdoors, 'pair', null)).toEqual({ xM: 0.5, zM: 10 })
    expect(clampedPlace('behind', { xM: -20, zM: 3 }, outdoors, 'pair', null)).toEqual({ xM: -7, zM: -1 })
  })
  test('stops at a wall behind and at the walls of a hall, with room for the whole row', () => {
    expect(clampedPlace('behind', { xM: 0, zM: -8 }, outdoors, 'pair', -4.012).zM).toBeCloseTo(-3.81, 9)
    const place = clampedPlace('behind', { xM: -9, zM: -9 }, hall, 'pair', null)
    expect(place).toEqual({ xM: -1.9, zM: -2.8 })
  })
})

test('four boxes stacked are two columns, five are three', () => {
  const size = { widthM: 0.5, heightM: 0.6, depthM: 0.7 }
  expect(stackBodies(4, size).map(({ xMinM, xMaxM }) => [xMinM, xMaxM])).toEqual([
    [-0.5, 0],
    [0, 0.5],
  ])
  expect(stackBodies(5, size)).toHaveLength(3)
  expect(floorOf({ xMinM: -1, xMaxM: 1, zMinM: -0.7, zMaxM: 0.3 })).toBeCloseTo(2, 9)
})

test('labels that would stand on each other move apart about where they were', () => {
  expect(spreadOut([0, 100], 16)).toEqual([0, 100])
  expect(spreadOut([50, 52, 54], 16)).toEqual([36, 52, 68])
  expect(spreadOut([], 16)).toEqual([])
})
