import { describe, expect, test } from 'vitest'
import {
  crowdClearsDeg,
  crowdLossDb,
  leftByCrowd,
  crowdPath as pathOver,
} from '../../../../src/acoustics/field/crowd.ts'
import type { PlacedSource, Point } from '../../../../src/acoustics/index.ts'

const source = { position: { xM: 0, yM: 2, zM: 0 }, yawRad: 0 }
const crowdPath = (of: Pick<PlacedSource, 'position' | 'yawRad'>, listener: Point) => pathOver(of, listener, 1.6)
const at = (xM: number, zM: number, yM = 1.6) => ({ xM, yM, zM })

describe('a crowd', () => {
  test('takes less the steeper sound comes, nothing from 8° up, and under the shoulders what it takes level with them', () => {
    const losses = [0, 1, 2, 4, 6, 8, 20, 90].map(crowdLossDb)
    expect(losses).toEqual(losses.toSorted((a, b) => b - a))
    expect(losses.slice(5)).toEqual([0, 0, 0])
    expect(crowdLossDb(-30)).toBe(losses[0])
    expect(() => crowdLossDb(91)).toThrow(/elevationDeg is 91/)
  })

  test('lies between a box and whoever stands in front of it, not behind it nor close to it', () => {
    // 2 m up, shoulders at 1.45 m: 0.55 m over them.
    const { elevationDeg, share, lossDb } = crowdPath(source, at(0, 10))
    expect(elevationDeg).toBeCloseTo((Math.atan(0.055) * 180) / Math.PI, 9)
    expect(share).toBe(1)
    expect(lossDb).toBeCloseTo(crowdLossDb(elevationDeg), 9)
    for (const place of [at(0, -5), at(4, 0), at(0, 1)]) expect(crowdPath(source, place).lossDb).toBe(0)
    expect(crowdPath(source, at(0, 2)).share).toBeCloseTo(0.5, 9)
    // The same behind a box that is turned round.
    expect(crowdPath({ ...source, yawRad: Math.PI }, at(0, -10)).lossDb).toBeCloseTo(lossDb, 9)
  })

  test('is cleared by a box that is raised by as much as it says, and takes more from ears below those who stand', () => {
    const { raiseM, lossDb } = crowdPath(source, at(3, 10))
    const raised = crowdPath({ ...source, position: { ...source.position, yM: 2 + raiseM } }, at(3, 10))
    expect(raised.elevationDeg).toBeCloseTo(crowdClearsDeg, 9)
    expect(raised.lossDb).toBeCloseTo(0, 9)
    expect(crowdPath(source, at(3, 10, 1.2)).lossDb).toBeGreaterThan(lossDb)
    expect(crowdPath(source, at(3, 10, 3)).lossDb).toBe(0)
  })

  test('leaves bass alone, and of what the ground throws back nothing from 500 Hz up', () => {
    const path = crowdPath(source, at(0, 10))
    expect(leftByCrowd(path, 353)).toEqual({ direct: 1, ground: 1 })
    const whole = leftByCrowd(path, 500)
    expect(-20 * Math.log10(whole.direct)).toBeCloseTo(path.lossDb, 9)
    expect(whole.ground).toBe(0)
    expect(leftByCrowd(path, 8000)).toEqual(whole)
    const half = leftByCrowd(path, 500 * 2 ** -0.25)
    expect(-20 * Math.log10(half.direct)).toBeCloseTo(path.lossDb / 2, 9)
    expect(half.ground).toBeCloseTo(0.5, 9)
  })
})
