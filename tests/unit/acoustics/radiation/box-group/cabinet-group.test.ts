import { describe, expect, it } from 'vitest'
import { magnitude } from '../../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../../../src/acoustics/point.ts'
import { type CabinetGroup, solveCabinetGroup } from '../../../../../src/acoustics/radiation/box-group/cabinet-group.ts'
import { type GroupBox, narrowestGapM } from '../../../../../src/acoustics/radiation/box-group/group-geometry.ts'
import type { Cabinet } from '../../../../../src/acoustics/radiation/cabinet.ts'
import { monopole } from '../../../../../src/acoustics/radiation/monopole.ts'
import { solveCabinet } from '../../../../../src/acoustics/radiation/solve-cabinet.ts'

const air = makeAir()
const piston = (yM = 0) => ({ kind: 'piston' as const, radiusM: 0.19, xM: 0, yM })
const sub: Cabinet = { widthM: 0.56, heightM: 0.62, depthM: 0.66, drivers: [piston()] }
const top: Cabinet = {
  widthM: 0.4,
  heightM: 0.8,
  depthM: 0.36,
  drivers: [{ ...piston(-0.1), radiusM: 0.15, xM: 0.03 }],
}
const standing = (cabinet: Cabinet, xM: number, zM: number, turned = false): GroupBox => ({
  cabinet,
  position: { xM, yM: cabinet.heightM / 2, zM },
  turned,
})
const places: Point[] = [
  { xM: 0, yM: 1.2, zM: 4 },
  { xM: 1.5, yM: 0.3, zM: 1 },
  { xM: -0.7, yM: 1.6, zM: -3 },
  { xM: 3, yM: 0, zM: -0.5 },
]
/** Greatest difference of two sounds at the places, over that of a point source there. */
function apart(a: (place: Point) => { re: number; im: number }, b: typeof a, frequencyHz: number): number {
  return Math.max(
    ...places.map((place) => {
      const [p, q] = [a(place), b(place)]
      return Math.hypot(p.re - q.re, p.im - q.im) / magnitude(monopole(frequencyHz, air).pressureAt(place))
    }),
  )
}
const of =
  (group: CabinetGroup, box: number, xM = 0, zM = 0) =>
  (place: Point) =>
    group.pressureAt(box, { ...place, xM: place.xM + xM, zM: place.zM + zM })

describe('boxes solved together', () => {
  it('one in free air is the solved cabinet', () => {
    const group = solveCabinetGroup([{ cabinet: sub, position: { xM: 1, yM: 2, zM: 3 } }], 'free-air', 80, air)
    const alone = solveCabinet(sub, 80, air)
    const moved = (place: Point) => group.pressureAt(0, { xM: place.xM + 1, yM: place.yM + 2, zM: place.zM + 3 })
    expect(apart(moved, alone.pressureAt, 80)).toBeLessThan(0.005)
  })

  it('one on a floor is the upper half of a cabinet twice as high with two drivers', () => {
    const { heightM } = sub
    const doubled = { ...sub, heightM: 2 * heightM, drivers: [piston(heightM / 2), piston(-heightM / 2)] }
    for (const frequencyHz of [40, 125]) {
      const group = solveCabinetGroup([standing(sub, 0, 0)], 'hard-floor', frequencyHz, air)
      const both = solveCabinet(doubled, frequencyHz, air)
      // The two drivers of the doubled cabinet share the unit flow.
      const twice = (place: Point) => {
        const { re, im } = both.pressureAt(place)
        return { re: 2 * re, im: 2 * im }
      }
      expect(apart(of(group, 0), twice, frequencyHz)).toBeLessThan(0.005)
    }
  })

  it('two far apart each sound as they do alone', () => {
    const [alone, turnedAlone] = [
      solveCabinetGroup([standing(sub, 0, 0)], 'hard-floor', 63, air),
      solveCabinetGroup([standing(top, 0, 0, true)], 'hard-floor', 63, air),
    ]
    const both = solveCabinetGroup([standing(sub, 0, 0), standing(top, 300, -20, true)], 'hard-floor', 63, air)
    expect(apart(of(both, 0), of(alone, 0), 63)).toBeLessThan(0.003)
    expect(apart(of(both, 1, 300, -20), of(turnedAlone, 0), 63)).toBeLessThan(0.003)
  })

  it('a box that is turned sends to the back what it would send to the front', () => {
    const boxes = (turned: boolean) => solveCabinetGroup([standing(top, 0, 0, turned)], 'hard-floor', 100, air)
    const [ahead, back] = [boxes(false), boxes(true)]
    const mirrored = (place: Point) => back.pressureAt(0, { xM: -place.xM, yM: place.yM, zM: -place.zM })
    expect(apart(of(ahead, 0), mirrored, 100)).toBeLessThan(1e-6)
  })

  it('mutual impedances are the same both ways, whatever the boxes', () => {
    const group = solveCabinetGroup(
      [standing(sub, 0, 0), standing(top, 0.75, -0.3, true), standing(sub, -0.1, -1.3)],
      'hard-floor',
      80,
      air,
    )
    for (const [a, b] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ] as const) {
      const [there, back] = [group.mutualImpedance(a, b), group.mutualImpedance(b, a)]
      expect(Math.hypot(there.re - back.re, there.im - back.im)).toBeLessThan(0.012 * magnitude(there))
    }
  })

  it('boxes that touch are one block', () => {
    const wide: Cabinet = { ...sub, widthM: 2 * sub.widthM, drivers: [-0.28, 0.28].map((xM) => ({ ...piston(), xM })) }
    const pair = solveCabinetGroup([standing(sub, -0.28, 0), standing(sub, 0.28, 0)], 'hard-floor', 63, air)
    const block = solveCabinetGroup([standing(wide, 0, 0)], 'hard-floor', 63, air)
    // The two drivers of the block share its unit flow.
    const halves = (place: Point) => {
      const [a, b] = [pair.pressureAt(0, place), pair.pressureAt(1, place)]
      return { re: (a.re + b.re) / 2, im: (a.im + b.im) / 2 }
    }
    // Points go by the shortest edge, which is another: the meshes differ.
    expect(apart(halves, of(block, 0), 63)).toBeLessThan(0.005)
    expect(narrowestGapM([standing(sub, -0.28, 0), standing(sub, 0.28, 0)])).toBe(Number.POSITIVE_INFINITY)
  })

  it('in step they are the sum of each alone', () => {
    const boxes = [standing(sub, 0, 0), standing(top, 0.9, -0.4, true)]
    const [each, sum] = [{}, { inStep: true }].map((options) =>
      solveCabinetGroup(boxes, 'hard-floor', 100, air, options),
    ) as [CabinetGroup, CabinetGroup]
    const both = (place: Point) => {
      const [a, b] = [each.pressureAt(0, place), each.pressureAt(1, place)]
      return { re: a.re + b.re, im: a.im + b.im }
    }
    expect(apart(both, of(sum, 0), 100)).toBeLessThan(1e-4)
  })

  it('touching partly, as a trio with its middle one set back, a finer mesh changes little', () => {
    const boxes = [standing(sub, -0.56, 0), standing(sub, 0, -0.5, true), standing(sub, 0.56, 0)]
    const [coarse, fine] = [5, 8].map((pointsOfSide) =>
      solveCabinetGroup(boxes, 'hard-floor', 80, air, { pointsOfSide }),
    ) as [CabinetGroup, CabinetGroup]
    for (const box of [0, 1, 2]) expect(apart(of(coarse, box), of(fine, box), 80)).toBeLessThan(0.01)
  })

  it('a box in the way changes what another sends past it', () => {
    const alone = solveCabinetGroup([standing(sub, 0, 0)], 'hard-floor', 63, air)
    const both = solveCabinetGroup([standing(sub, 0, 0), standing(sub, 0, -0.76)], 'hard-floor', 63, air)
    expect(apart(of(both, 0), of(alone, 0), 63)).toBeGreaterThan(0.05)
  })

  it('its error falls as points become more', () => {
    const boxes = [standing(sub, 0, 0), standing(sub, 0, -0.72)]
    const [few, usual, many] = [3, 5, 8].map((pointsOfSide) =>
      solveCabinetGroup(boxes, 'hard-floor', 100, air, { pointsOfSide }),
    ) as [CabinetGroup, CabinetGroup, CabinetGroup]
    expect(apart(of(usual, 1), of(many, 1), 100)).toBeLessThan(0.004)
    expect(apart(of(usual, 1), of(many, 1), 100)).toBeLessThan(0.2 * apart(of(few, 1), of(many, 1), 100))
  })

  it('has the right answer at a resonance of the inside', () => {
    // A cube of 1.2 m on a floor: the lowest resonance of 1.2 × 2.4 × 1.2 m with no pressure at its walls.
    const edgeM = 1.2
    const cube: Cabinet = { widthM: edgeM, heightM: edgeM, depthM: edgeM, drivers: [{ ...piston(), radiusM: 0.25 }] }
    const resonanceHz = (air.speedOfSoundMps / 2) * Math.hypot(1 / edgeM, 1 / edgeM, 1 / (2 * edgeM))
    const doubled = {
      ...cube,
      heightM: 2 * edgeM,
      drivers: [0.6, -0.6].map((yM) => ({ ...piston(yM), radiusM: 0.25 })),
    }
    const both = solveCabinet(doubled, resonanceHz, air)
    const twice = (place: Point) => {
      const { re, im } = both.pressureAt(place)
      return { re: 2 * re, im: 2 * im }
    }
    const group = solveCabinetGroup([standing(cube, 0, 0)], 'hard-floor', resonanceHz, air)
    expect(apart(of(group, 0), twice, resonanceHz)).toBeLessThan(0.02)
  })

  it('a horn, whose velocity is another at each frequency, is solved as well', () => {
    const mouth = {
      kind: 'horn' as const,
      mouthWidthM: 0.4,
      mouthHeightM: 0.4,
      horizontalCoverageRad: 1.5,
      verticalCoverageRad: 1,
      xM: 0.02,
      yM: 0,
    }
    const cabinet: Cabinet = { ...sub, drivers: [mouth] }
    const alone = solveCabinet(cabinet, 150, air)
    const group = solveCabinetGroup([{ cabinet, position: { xM: 0, yM: 0, zM: 0 } }], 'free-air', 150, air)
    expect(apart(of(group, 0), alone.pressureAt, 150)).toBeLessThan(0.01)
  })

  it('says what is allowed', () => {
    const solve = (boxes: GroupBox[], place: 'hard-floor' | 'free-air' = 'hard-floor', frequencyHz = 63) =>
      solveCabinetGroup(boxes, place, frequencyHz, air)
    expect(() => solve([])).toThrow(/boxes\.length is 0/)
    expect(() => solve(Array.from({ length: 7 }, (_, i) => standing(sub, 2 * i, 0)))).toThrow(/boxes\.length is 7/)
    expect(() => solve([standing(sub, 0, 0), standing(sub, 0.3, 0.2)])).toThrow(/stand in each other/)
    expect(() => solve([standing(sub, 0, 0), standing(sub, 0, -0.665)])).toThrow(
      /0\.005\d* m apart; allowed is touching/,
    )
    expect(() => solve([{ ...standing(sub, 0, 0), position: { xM: 0, yM: 0.3, zM: 0 } }])).toThrow(
      /position\.yM is 0\.3/,
    )
    expect(() => solve([{ ...standing(sub, 0, 0), position: { xM: Number.NaN, yM: 0.31, zM: 0 } }])).toThrow(
      /xM is NaN/,
    )
    expect(() => solve([standing(sub, 0, 0)], 'hard-floor', 0)).toThrow(/frequencyHz is 0/)
    expect(() => solve([standing(sub, 0, 0)], 'hard-floor', 20000)).toThrow(/take \d+ points/)
    expect(() => solve([standing(sub, 0, 0)], 'water' as 'free-air')).toThrow(/place is water/)
    expect(() => solveCabinetGroup([standing(sub, 0, 0)], 'free-air', 63, air, { pointsOfSide: 1 })).toThrow(
      /pointsOfSide is 1/,
    )
    expect(() => solveCabinetGroup([standing(sub, 0, 0)], 'hard-floor', 63, air, { wallZM: -0.5 })).toThrow(
      /before the wall; allowed is touching/,
    )
    const group = solve([standing(sub, 0, 0)])
    expect(() => group.pressureAt(1, { xM: 0, yM: 1, zM: 4 })).toThrow(/driven is 1/)
    expect(() => group.pressureAt(0, { xM: 0, yM: -1, zM: 4 })).toThrow(/point\.yM is -1/)
    expect(() => group.pressureAt(0, { xM: 0, yM: 0.3, zM: -0.3 })).toThrow(/inside a box/)
    expect(() => group.pressureAt(0, { xM: 0, yM: Number.NaN, zM: 4 })).toThrow(/point\.yM is NaN/)
  })
})
