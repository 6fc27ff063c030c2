import { describe, expect, it } from 'vitest'
import topOverSub from '../../../../content/gear/top-over-sub.json' with { type: 'json' }
import { distanceToFootprintM, footprints } from '../../../../src/acoustics/field/footprint.ts'
import {
  clearPlace,
  frontPlaceAtSameDistance,
  frontPoint,
  measuredDistanceM,
  placePoint,
} from '../../../../src/acoustics/field/listening-place.ts'
import type { Rig, RigCabinet } from '../../../../src/acoustics/field/rig.ts'

const rig = topOverSub as Rig
const sub = rig.cabinets[1] as RigCabinet
const moved = (change: Partial<RigCabinet>): Rig => ({ name: 'moved', cabinets: [{ ...sub, ...change }] })

describe('footprints', () => {
  it('lie behind the front face and turn with the yaw', () => {
    const [, straight] = footprints(rig)
    expect(straight?.corners[0]).toEqual({ xM: -0.28, zM: 0 })
    expect(straight?.corners[2]).toEqual({ xM: 0.28, zM: -0.66 })
    const [turned] = footprints(moved({ yawRad: Math.PI / 2 }))
    // facing +x: the front's left end points to +z, the rear to −x
    expect(turned?.corners[0].xM).toBeCloseTo(0, 12)
    expect(turned?.corners[0].zM).toBeCloseTo(0.28, 12)
    expect(turned?.corners[2].xM).toBeCloseTo(-0.66, 12)
    expect(turned?.corners[2].zM).toBeCloseTo(-0.28, 12)
  })

  it('are 0 away inside, and as far as the nearest edge or corner outside', () => {
    expect(distanceToFootprintM(sub, { xM: 0.1, zM: -0.3 })).toBe(0)
    expect(distanceToFootprintM(sub, { xM: 0, zM: 2 })).toBe(2)
    expect(distanceToFootprintM(sub, { xM: 0.28 + 0.3, zM: 0.4 })).toBeCloseTo(0.5, 12)
    expect(() => distanceToFootprintM(sub, { xM: Number.NaN, zM: 0 })).toThrow(RangeError)
  })
})

describe('a listening place', () => {
  it('is in front at angle 0, toward +x at a right angle, behind at π', () => {
    expect(frontPoint(2, 1.6)).toEqual({ xM: 0, yM: 1.6, zM: 2 })
    const side = placePoint({ angleRad: Math.PI / 2, distanceM: 3 }, 1.2)
    expect(side.xM).toBeCloseTo(3, 12)
    expect(side.zM).toBeCloseTo(0, 12)
    expect(placePoint({ angleRad: Math.PI, distanceM: 2 }, 1.2).zM).toBeCloseTo(-2, 12)
  })

  it('measures from the front face or from the nearest face', () => {
    const behind = { angleRad: Math.PI, distanceM: 2 }
    expect(measuredDistanceM(behind, rig, 'front-face')).toBe(2)
    expect(measuredDistanceM(behind, rig, 'nearest-face')).toBeCloseTo(2 - 0.66, 12)
    expect(measuredDistanceM({ angleRad: 0, distanceM: 2 }, rig, 'nearest-face')).toBeCloseTo(2, 12)
  })

  it('has a front place at the same measured distance', () => {
    const behind = { angleRad: Math.PI, distanceM: 2 }
    expect(frontPlaceAtSameDistance(behind, rig, 'front-face')).toEqual({ angleRad: 0, distanceM: 2 })
    expect(frontPlaceAtSameDistance(behind, rig, 'nearest-face').distanceM).toBeCloseTo(1.34, 9)
    for (const angleRad of [0.3, 1, 2, -2.5]) {
      const place = { angleRad, distanceM: 1.7 }
      const front = frontPlaceAtSameDistance(place, rig, 'nearest-face')
      expect(measuredDistanceM(front, rig, 'nearest-face')).toBeCloseTo(
        measuredDistanceM(place, rig, 'nearest-face'),
        9,
      )
    }
  })

  it('finds the outermost front place when a cabinet stands out in front or is turned', () => {
    const ahead = moved({ frontCentre: { xM: 0.1, yM: 0.31, zM: 1 }, yawRad: 0.4 })
    const place = { angleRad: Math.PI, distanceM: 3 }
    const front = frontPlaceAtSameDistance(place, ahead, 'nearest-face')
    expect(front.distanceM).toBeGreaterThan(1)
    expect(measuredDistanceM(front, ahead, 'nearest-face')).toBeCloseTo(
      measuredDistanceM(place, ahead, 'nearest-face'),
      9,
    )
  })

  it('says so when the front axis never comes so near', () => {
    const apart = moved({ frontCentre: { xM: 3, yM: 0.31, zM: 0 } })
    const close = { angleRad: Math.atan2(3, -1), distanceM: Math.hypot(3, 1) }
    expect(() => frontPlaceAtSameDistance(close, apart, 'nearest-face')).toThrow(/no place on the front axis/)
  })

  it('moves outward along its ray until it is clear, and not at all if it is', () => {
    const clear = { angleRad: 1, distanceM: 2 }
    expect(clearPlace(clear, rig)).toEqual(clear)
    for (const angleRad of [0, 0.5, 1.6, 2.4, Math.PI, -1.1]) {
      for (const distanceM of [0, 0.1, 0.5, 0.8]) {
        const place = clearPlace({ angleRad, distanceM }, rig, 0.25)
        expect(place.angleRad).toBe(angleRad)
        expect(place.distanceM).toBeGreaterThanOrEqual(distanceM)
        const gapM = measuredDistanceM(place, rig, 'nearest-face')
        expect(gapM).toBeGreaterThanOrEqual(0.25)
        if (place.distanceM > distanceM) expect(gapM).toBeCloseTo(0.25, 9)
      }
    }
  })

  it('moves past every cabinet in its way', () => {
    const row: Rig = {
      name: 'row',
      cabinets: [0, -1.1].map((zM, i) => ({ ...sub, name: `sub ${i}`, frontCentre: { xM: 0, yM: 0.31, zM } })),
    }
    expect(clearPlace({ angleRad: Math.PI, distanceM: 0.3 }, row, 0.25).distanceM).toBeCloseTo(1.1 + 0.66 + 0.25, 9)
  })

  it('refuses negative distances, unknown datums and a clearance of 0', () => {
    expect(() => placePoint({ angleRad: 0, distanceM: -1 }, 1)).toThrow(/distanceM is -1/)
    expect(() => placePoint({ angleRad: Number.NaN, distanceM: 1 }, 1)).toThrow(/angleRad/)
    expect(() => frontPoint(1, -0.1)).toThrow(/earHeightM/)
    expect(() => measuredDistanceM({ angleRad: 0, distanceM: 1 }, rig, 'rear' as 'front-face')).toThrow(/datum is rear/)
    expect(() => clearPlace({ angleRad: 0, distanceM: 1 }, rig, 0)).toThrow(/clearanceM/)
  })
})
