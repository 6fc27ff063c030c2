import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  amplitudeLevelDb,
  clearPlace,
  magnitude,
  makeAir,
  placeBetweenWalls,
  placePoint,
  type Rig,
  rigField,
  type Wall,
  walledField,
} from '../../../../src/acoustics/index.ts'

const rig: Rig = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../content/gear/compact-two-way.json'), 'utf8'),
)
const free = rigField(rig, makeAir())
const wall = (zM: number, absorption = 0): Wall => ({
  point: { xM: 0, yM: 0, zM },
  normal: { xM: 0, yM: 0, zM: 1 },
  absorption: () => absorption,
})
const front = { xM: 0, yM: 1.6, zM: 3 }

describe('a rig in front of walls', () => {
  test('without a wall, and with one that takes everything, it is the free field', () => {
    for (const walls of [[], [wall(-2, 1)]]) {
      expect(walledField(free, walls).transferAt(front, 100)).toEqual(free.transferAt(front, 100))
    }
  })

  test('at a hard wall the pressure is twice what arrives', () => {
    const at = { xM: 0.4, yM: 1.2, zM: -2 }
    const walled = magnitude(walledField(free, [wall(-2)]).transferAt(at, 90))
    expect(amplitudeLevelDb(walled / magnitude(free.transferAt(at, 90)))).toBeCloseTo(20 * Math.log10(2), 9)
  })

  test('the image of a corner is the image of the image', () => {
    const side: Wall = { point: { xM: 1.5, yM: 0, zM: 0 }, normal: { xM: -2, yM: 0, zM: 0 }, absorption: () => 0.3 }
    const corner = walledField(free, [wall(-2, 0.3), side])
    const once = walledField(free, [wall(-2, 0.3)])
    const mirrored = { ...front, xM: 3 - front.xM }
    const [a, b] = [once.transferAt(front, 70), free.transferAt(mirrored, 70)]
    const behind = free.transferAt({ ...mirrored, zM: -4 - front.zM }, 70)
    const r = Math.sqrt(0.7)
    const all = corner.transferAt(front, 70)
    expect(all.re).toBeCloseTo(a.re + r * b.re + r * r * behind.re, 12)
    expect(all.im).toBeCloseTo(a.im + r * b.im + r * r * behind.im, 12)
  })

  test('nobody can be behind the wall or in a box, and a box cannot reach through it', () => {
    const field = walledField(free, [wall(-2)])
    expect(field.isOpen(front)).toBe(true)
    expect(field.isOpen({ ...front, zM: -2.1 })).toBe(false)
    expect(field.isOpen({ xM: 0, yM: 1.6, zM: -0.1 })).toBe(false)
    expect(() => field.transferAt({ ...front, zM: -2.5 }, 100)).toThrow(/listener is 0\.5 m behind/)
    expect(() => walledField(free, [wall(-0.1)])).toThrow(/corner of the cabinet .*behind walls\[0\]/)
  })
})

describe('a place between walls', () => {
  const behind = { angleRad: Math.PI, distanceM: 3 }
  const open = Number.POSITIVE_INFINITY
  const behindAt = (zMinM: number) => ({ xMinM: -open, xMaxM: open, zMinM, zMaxM: open })

  test('stays where it is while it is clear', () => {
    expect(placeBetweenWalls(behind, rig, behindAt(-4))).toEqual(clearPlace(behind, rig))
  })

  test('stops at the wall', () => {
    const stopped = placePoint(placeBetweenWalls(behind, rig, behindAt(-2), 0.25), 1.6)
    expect(stopped.zM).toBeCloseTo(-1.75, 9)
    expect(stopped.xM).toBeCloseTo(0, 9)
  })

  test('moves aside where the box leaves no room', () => {
    const wallZM = -0.24 - 0.2
    const aside = placePoint(placeBetweenWalls(behind, rig, behindAt(wallZM), 0.12), 1.6)
    expect(aside.zM).toBeCloseTo(wallZM + 0.12, 9)
    expect(Math.abs(aside.xM)).toBeGreaterThan(0.13)
    expect(walledField(free, [wall(wallZM)]).isOpen(aside)).toBe(true)
  })

  test('refuses a wall that is not a number', () => {
    expect(() => placeBetweenWalls(behind, rig, behindAt(Number.NaN))).toThrow(/in z; allowed/)
  })

  test('stops at a side wall and in a corner', () => {
    const walls = { xMinM: -1.5, xMaxM: 4, zMinM: -2, zMaxM: 9 }
    const corner = placePoint(placeBetweenWalls({ angleRad: (-3 * Math.PI) / 4, distanceM: 4 }, rig, walls, 0.2), 1.6)
    expect(corner.xM).toBeCloseTo(-1.3, 9)
    expect(corner.zM).toBeCloseTo(-1.8, 9)
  })
})
