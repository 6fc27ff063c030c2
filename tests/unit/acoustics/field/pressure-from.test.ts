import { describe, expect, it } from 'vitest'
import {
  gradientPair,
  makeAir,
  monopole,
  type PlacedSource,
  type Point,
  pressureField,
  pressureFrom,
  type Radiation,
  sphereCabinet,
  type Wall,
} from '../../../../src/acoustics/index.ts'

const air = makeAir()
const origin: Point = { xM: 0, yM: 0, zM: 0 }
const at = (xM: number, yM: number, zM: number): Point => ({ xM, yM, zM })
const source = (position: Point, change: Partial<PlacedSource> = {}): PlacedSource => ({
  radiation: (frequencyHz) => monopole(frequencyHz, air),
  position,
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
  ...change,
})
const wall = (normal: Point, absorption = 0, point = origin): Wall => ({ point, normal, absorption: () => absorption })
const floor = wall(at(0, 2, 0))
const behind = wall(at(0, 0, 0.5))
const left = wall(at(1, 0, 0))
const listener = at(1.5, 1.7, 3)
const sum = (parts: { re: number; im: number }[]) =>
  parts.reduce((total, { re, im }) => ({ re: total.re + re, im: total.im + im }), { re: 0, im: 0 })
const near = (a: { re: number; im: number }, b: { re: number; im: number }) => {
  expect(a.re).toBeCloseTo(b.re, 9)
  expect(a.im).toBeCloseTo(b.im, 9)
}
const free = (sources: PlacedSource[], frequencyHz = 90) => pressureFrom(sources, [], listener, frequencyHz, air)

describe('sources in front of walls', () => {
  it('without walls are the sum of their radiations, with gain, polarity and delay', () => {
    const p = monopole(90, air).pressureAt(at(1.5, 1.7, 2))
    near(free([source(at(0, 0, 1), { gain: 0.5, polarity: -1, delayS: 1 / 180 })]), { re: 0.5 * p.re, im: 0.5 * p.im })
    expect(free([])).toEqual({ re: 0, im: 0 })
  })

  it('a delay is e^{−jωτ}', () => {
    const p = free([source(at(0, 0, 1))])
    const late = free([source(at(0, 0, 1), { delayS: 1 / 360 })])
    near(late, { re: p.im, im: -p.re })
  })

  it('a yaw of 0 faces +z and turns toward +x', () => {
    const forward: PlacedSource['radiation'] = (frequencyHz) => ({
      ...monopole(frequencyHz, air),
      pressureAt: ({ xM, zM }) => ({ re: zM, im: xM }),
    })
    near(pressureFrom([source(origin, { radiation: forward, yawRad: Math.PI / 2 })], [], at(2, 0, 0), 90, air), {
      re: 2,
      im: 0,
    })
    near(pressureFrom([source(origin, { radiation: forward, yawRad: Math.PI / 2 })], [], at(0, 0, 2), 90, air), {
      re: 0,
      im: -2,
    })
  })

  it('a wall adds the image, weakened by √(1 − α)', () => {
    const soft = wall(at(0, 0, 1), 0.51)
    near(
      pressureFrom([source(at(0, 1, 2))], [soft], listener, 90, air),
      sum([free([source(at(0, 1, 2))]), free([source(at(0, 1, -2), { gain: 0.7 })])]),
    )
    near(pressureFrom([source(at(0, 1, 2))], [wall(at(0, 0, 1), 1)], listener, 90, air), free([source(at(0, 1, 2))]))
  })

  it('three perpendicular walls have seven images', () => {
    const images = [-1, 1].flatMap((x) =>
      [-1, 1].flatMap((y) => [-1, 1].map((z) => source(at(0.4 * x, 0.3 * y, 0.9 * z)))),
    )
    near(pressureFrom([source(at(0.4, 0.3, 0.9))], [floor, behind, left], listener, 90, air), free(images))
  })

  it('parallel walls have only their own images, and none of a third wall is lost', () => {
    const opposite = wall(at(0, 0, -1), 0, at(0, 0, 10))
    const places = [at(0, 1, 2), at(0, 1, -2), at(0, 1, 18)].flatMap((place) => [place, { ...place, yM: -place.yM }])
    near(
      pressureFrom([source(at(0, 1, 2))], [behind, opposite, floor], listener, 90, air),
      free(places.map((place) => source(place))),
    )
  })

  it('walls at another angle than a right one have no product image', () => {
    const slanted = wall(at(Math.SQRT1_2, 0, Math.SQRT1_2), 0, at(0, 0, -1))
    // Mirror (0, 1, 2) in the plane x + z = −1.
    near(
      pressureFrom([source(at(0, 1, 2))], [behind, slanted], listener, 90, air),
      free([source(at(0, 1, 2)), source(at(0, 1, -2)), source(at(-3, 1, -1))]),
    )
  })

  it('an image has its source’s mirrored direction', () => {
    const box = {
      widthM: 0.4,
      heightM: 0.5,
      depthM: 0.4,
      drivers: [{ kind: 'piston' as const, radiusM: 0.15, xM: 0, yM: 0 }],
    }
    const radiation = (frequencyHz: number) => sphereCabinet(box, frequencyHz, air)
    const yawRad = 0.6
    const own = source(at(0, 1, 2), { radiation, yawRad })
    // Mirrored in z, a box that is alike left and right faces π − yaw.
    const image = source(at(0, 1, -2), { radiation, yawRad: Math.PI - yawRad })
    near(pressureFrom([own], [behind], listener, 700, air), free([own, image], 700))
  })

  it('is the same for a pair and for the pair’s images', () => {
    const pair = gradientPair(
      { spacingM: 0.8, centre: at(0, 0.5, 2), yawRad: 0.3, radiation: (f): Radiation => monopole(f, air) },
      air,
    )
    const mirrored = pair.map((one) => ({ ...one, position: { ...one.position, zM: -one.position.zM } }))
    near(pressureFrom(pair, [behind], listener, 60, air), free([...pair, ...mirrored], 60))
  })

  it('asks each radiation once for a whole field', () => {
    let asked = 0
    const radiation: PlacedSource['radiation'] = (frequencyHz) => {
      asked += 1
      return monopole(frequencyHz, air)
    }
    const field = pressureField([source(at(0, 1, 2), { radiation })], [floor, behind], 90, air)
    field(listener)
    field(at(2, 1, 2))
    expect(asked).toBe(1)
  })

  it('refuses, in plain words, what is behind a wall or out of range', () => {
    const own = source(at(0, 1, 2))
    const ask =
      (sources: PlacedSource[], walls: Wall[], place = listener, frequencyHz = 90) =>
      () =>
        pressureFrom(sources, walls, place, frequencyHz, air)
    expect(ask([own], [behind], at(0, 1, -0.5))).toThrow('listener is 0.5 m behind walls[0]; allowed is the side')
    expect(ask([source(at(0, 1, -2))], [behind])).toThrow('sources[0].position is 2 m behind walls[0]')
    for (const absorption of [-0.01, 1.01, Number.NaN]) {
      expect(ask([own], [wall(at(0, 0, 1), absorption)])).toThrow(
        `walls[0].absorption at 90 Hz is ${absorption}; allowed is a finite number from 0 to 1`,
      )
    }
    expect(ask([own], [wall(origin)])).toThrow('length of walls[0].normal is 0')
    expect(ask([own], [wall(at(Number.NaN, 0, 1))])).toThrow('walls[0].normal.xM is NaN')
    expect(ask([own], [behind, wall(at(0, 0, 1), 0, at(0, 0, -1))])).toThrow('walls[1] faces the same way as walls[0]')
    expect(ask([own], [], at(0, Infinity, 0))).toThrow('listener.yM is Infinity')
    expect(ask([own], [], listener, 0)).toThrow('frequencyHz is 0')
    expect(ask([source(at(0, 1, 2), { polarity: 0 as 1 })], [])).toThrow('sources[0].polarity is 0; allowed is 1 or -1')
    for (const field of ['yawRad', 'gain', 'delayS'] as const) {
      expect(ask([source(at(0, 1, 2), { [field]: Number.NaN })], [])).toThrow(`sources[0].${field} is NaN`)
    }
    expect(() => pressureFrom([own], [], listener, 90, { ...air, densityKgM3: -1 })).toThrow('air.densityKgM3')
    // On the wall is in front of it.
    expect(Number.isFinite(ask([source(at(0, 1, 0))], [behind], at(1, 1, 0))().re)).toBe(true)
  })
})
