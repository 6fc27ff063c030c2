import { beforeAll, describe, expect, test } from 'vitest'
import { groundReflection } from '../../../../src/acoustics/index.ts'
import { hallAnswer } from '../../../../src/engine/questions/hall/hall-parts.ts'
import { originInHall, roomOf } from '../../../../src/engine/questions/steer/steer-boxes.ts'
import { walkAnswer } from '../../../../src/engine/questions/walk/walk.ts'
import { airOf } from '../../../../src/engine/scene/air.ts'
import { rigInHall } from '../../../../src/engine/scene/demo-hall.ts'
import { demoHallStates } from '../../../../src/engine/scene/hall-content.ts'
import type { HallDesign } from '../../../../src/engine/scene/hall-scene.ts'
import { rigPlaceIn, roomAround } from '../../../../src/engine/scene/room.ts'
import { loadSolvedRig } from '../../../../src/engine/scene/solved-gear.ts'
import { wallsAt } from '../../../../src/engine/scene/walls.ts'
import { rigOf } from '../../../demo-gear.ts'

const rig = rigOf('compact-two-way')
const timber = demoHallStates[0]?.design as HallDesign
const at = ({ xM, zM }: { xM: number; zM: number }): HallDesign => ({ ...timber, rigAt: { xM, zM } })
beforeAll(() => loadSolvedRig(rig))

describe('a hall that says where a rig stands', () => {
  test('at the place of the demo hall answers as the demo hall does', () => {
    const asked = { rig, place: { xM: 1, zM: -2 }, bandHz: 1000 }
    expect(hallAnswer({ ...asked, hall: at(rigInHall) })).toEqual(hallAnswer({ ...asked, hall: timber }))
  })

  test('its mirror image sounds like its mirror image', () => {
    const here = hallAnswer({ rig, hall: at({ xM: -3, zM: 4 }), place: { xM: 1.2, zM: -2.5 }, bandHz: 500 })
    const there = hallAnswer({ rig, hall: at({ xM: 3, zM: 4 }), place: { xM: -1.2, zM: -2.5 }, bandHz: 500 })
    for (const [band, levelDb] of here.here.totalDb.entries()) {
      // 1e-6 dB: the images are summed in another order.
      expect(there.here.totalDb[band]).toBeCloseTo(levelDb, 6)
      expect(there.front.totalDb[band]).toBeCloseTo(here.front.totalDb[band] as number, 6)
    }
  })

  test('another place of the rig is another answer, and walls move with it', () => {
    const asked = { rig, place: { xM: 0, zM: -2 }, bandHz: 500 }
    expect(hallAnswer({ ...asked, hall: at({ xM: 0, zM: 9 }) }).bassDb).not.toBeCloseTo(
      hallAnswer({ ...asked, hall: timber }).bassDb,
      1,
    )
    expect(rigPlaceIn(at({ xM: 1, zM: 5 }))).toEqual({ xM: 1, yM: 0, zM: 5 })
    expect(roomAround(at({ xM: 1, zM: 5 }))).toEqual({ xMinM: -6.5, xMaxM: 4.5, zMinM: -5, zMaxM: 13 })
    expect(originInHall(at({ xM: 1, zM: 5 }), 'row')).toEqual({ xM: 0, yM: 0, zM: 5 })
    expect(roomOf(at({ xM: 1, zM: 5 }), 'pair')).toEqual({ xMinM: -6.5, xMaxM: 4.5, zMinM: -5, zMaxM: 13 })
  })
})

describe('ground in the open', () => {
  test('grass throws back what its flow resistivity says, hard ground all', () => {
    const [hard] = wallsAt({ floor: 'hard' }, airOf())
    const [grass] = wallsAt({ floor: 'grass' }, airOf())
    expect(hard?.absorption?.(1000)).toBe(0)
    const expected = groundReflection(200e3, airOf())(1000, 3, 0.5)
    expect(grass?.reflection?.(1000, 3, 0.5)).toEqual(expected)
  })

  test('the ground counts in a walk', () => {
    const place = { angleRad: Math.PI, distanceM: 2.5 }
    const datum = 'front-face'
    const on = (floor: 'hard' | 'grass') =>
      walkAnswer({ rig, place, datum, surroundings: { kind: 'outdoors', floor } }).hereDb
    const [hard, grass, free] = [on('hard'), on('grass'), walkAnswer({ rig, place, datum }).hereDb]
    expect(hard).not.toEqual(free)
    // Low down grass is nearly hard.
    expect(grass[2]).toBeCloseTo(hard[2] as number, 0)
    expect(grass).not.toEqual(hard)
  })
})
