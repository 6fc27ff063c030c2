import { describe, expect, it } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { boundaryElementCeilingHz } from '../../../../src/acoustics/radiation/boundary-element-ceiling.ts'
import type { Cabinet, Driver } from '../../../../src/acoustics/radiation/cabinet.ts'
import { onAxisFarField } from '../../../../src/acoustics/radiation/far-field.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'
import { solveCabinet, solveDriverSets } from '../../../../src/acoustics/radiation/solve-cabinet.ts'
import { sphereCabinet } from '../../../../src/acoustics/radiation/sphere-cabinet.ts'

const air = makeAir()
const degrees = Math.PI / 180
const woofer: Driver = { kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.135 }
const horn: Driver = {
  kind: 'horn',
  mouthWidthM: 0.26,
  mouthHeightM: 0.17,
  horizontalCoverageRad: 90 * degrees,
  verticalCoverageRad: 60 * degrees,
  xM: 0,
  yM: 0.13,
}
const box = (drivers: Driver[]): Cabinet => ({ widthM: 0.32, heightM: 0.56, depthM: 0.3, drivers })
const levelDb = (p: { re: number; im: number }) => 20 * Math.log10(magnitude(p))

describe('a solved cabinet', () => {
  it('radiates like a point source at the bottom of the bass, whatever drives it', () => {
    for (const drivers of [[woofer], [horn], [woofer, { ...horn, gain: -0.3 }]]) {
      const solved = solveCabinet(box(drivers), 2, air)
      const net =
        drivers.length === 1 ? 1 : (Math.PI * 0.105 ** 2 - 0.3 * 0.0442) / (Math.PI * 0.105 ** 2 + 0.3 * 0.0442)
      const reference = levelDb(monopole(2, air).pressureAt({ xM: 0, yM: 0, zM: 10 })) + 20 * Math.log10(net)
      for (const point of [
        { xM: 0, yM: 0, zM: 10 },
        { xM: 0, yM: 0, zM: -10 },
        { xM: 7, yM: 7, zM: 0 },
      ]) {
        // 0.2 dB: the point source sits 0.1 m off the middle, at 10 m
        expect(Math.abs(levelDb(solved.pressureAt(point)) - reference)).toBeLessThan(0.2)
      }
      expect(solved.method).toBe('boundary-elements')
      expect(solved.rearIsEstimate).toBe(false)
    }
  })

  it('is near the sphere of equal surface while waves are long', () => {
    const [solved, sphere] = [solveCabinet(box([woofer]), 100, air), sphereCabinet(box([woofer]), 100, air)]
    expect(Math.abs(solved.farFieldDb(Math.PI, 0) - sphere.farFieldDb(Math.PI, 0))).toBeLessThan(0.5)
    expect(Math.abs(10 * Math.log10(solved.powerW / sphere.powerW))).toBeLessThan(0.1)
  })

  it('delays and turns round with its drivers', () => {
    const point = { xM: 0.5, yM: 0.2, zM: -1 }
    const plain = solveCabinet(box([woofer]), 250, air).pressureAt(point)
    // Half a period late is upside down.
    const late = solveCabinet(box([{ ...woofer, delayS: 0.002 }]), 250, air).pressureAt(point)
    const inverted = solveCabinet(box([{ ...woofer, gain: -3 }]), 250, air).pressureAt(point)
    for (const other of [late, inverted]) {
      expect(other.re).toBeCloseTo(-plain.re, 8)
      expect(other.im).toBeCloseTo(-plain.im, 8)
    }
  })

  it('is alike left and right when its drivers are', () => {
    const solved = solveCabinet(box([woofer, horn]), 800, air)
    for (const frontal of [0.4, 1.6, 3]) {
      expect(solved.farFieldDb(-frontal, 0.3)).toBeCloseTo(solved.farFieldDb(frontal, 0.3), 9)
    }
  })

  it('is continuous where the expansion takes over from the surface', () => {
    const solved = solveCabinet(box([woofer]), 600, air)
    const radiusM = solved.expansion?.radiusM ?? Number.NaN
    for (const [x, y, z] of [
      [0, 0, 1],
      [0.6, 0, -0.8],
      [0, 1, 0],
      [-0.8, 0.6, 0],
    ] as const) {
      const at = (share: number) => ({
        xM: share * radiusM * x,
        yM: share * radiusM * y,
        zM: share * radiusM * z - 0.15,
      })
      // 0.02 dB: the orders that are left out and the distance
      const step = levelDb(solved.pressureAt(at(0.9999))) - levelDb(solved.pressureAt(at(1.0001)))
      expect(Math.abs(step)).toBeLessThan(0.02)
    }
  })

  it('says how far off it may be, and is nearer with a finer mesh', () => {
    const finest = solveCabinet(box([woofer]), 1000, air, { elementsPerWavelength: 24 })
    const places = Array.from({ length: 25 }, (_, i) => ({
      xM: 50 * Math.sin(i / 8),
      yM: 10,
      zM: 50 * Math.cos(i / 8),
    }))
    const loudest = Math.max(...places.map((place) => levelDb(finest.pressureAt(place))))
    // The estimate speaks of directions within 20 dB of the loudest.
    const compared = places.filter((place) => levelDb(finest.pressureAt(place)) > loudest - 20)
    const errorDb = (elementsPerWavelength: number): number => {
      const solved = solveCabinet(box([woofer]), 1000, air, { elementsPerWavelength })
      const errors = compared.map((place) =>
        Math.abs(levelDb(solved.pressureAt(place)) - levelDb(finest.pressureAt(place))),
      )
      expect(Math.max(...errors)).toBeLessThan(solved.estimatedErrorDb)
      return Math.max(...errors)
    }
    const [coarse, fine] = [errorDb(5), errorDb(10)]
    expect(fine).toBeLessThan(0.03)
    // 1.4 times the points along an edge; panels of even pressure would gain a factor of less than 2.
    expect(coarse / fine).toBeGreaterThan(3)
  })
})

describe('above the ceiling of boundary elements', () => {
  const cabinet = box([horn])
  const ceilingHz = boundaryElementCeilingHz(cabinet, air)

  it('which lies above 2 kHz for a top box, a cabinet goes over without a step in any direction', () => {
    expect(ceilingHz).toBeGreaterThan(2239)
    const below = solveCabinet(cabinet, ceilingHz, air)
    const above = solveCabinet(cabinet, ceilingHz * (1 + 1e-5), air)
    expect(below.method).toBe('boundary-elements')
    expect(above.method).toBe('high-frequency')
    expect(above.rearIsEstimate).toBe(true)
    expect(above.unknowns).toBe(below.unknowns)
    for (const r of [0.5, 3, 40]) {
      for (let i = 0; i < 40; i++) {
        const cosine = -1 + (2 * (i + 0.5)) / 40
        const s = r * Math.sqrt(1 - cosine ** 2)
        const point = { xM: s * Math.cos(2.4 * i), yM: s * Math.sin(2.4 * i), zM: r * cosine - 0.15 }
        expect(Math.abs(levelDb(above.pressureAt(point)) - levelDb(below.pressureAt(point)))).toBeLessThan(0.5)
      }
    }
    expect(above.powerW / below.powerW).toBeCloseTo(1, 3)
    expect(above.directivityIndexDb).toBeCloseTo(below.directivityIndexDb, 1)
  })

  it('has no step where the drivers or an edge set behind an edge, save for what turns twice at the front', () => {
    const solved = solveCabinet(cabinet, 4000, air)
    const stepDb = (a: [number, number, number], b: [number, number, number]): number => {
      const [p, q] = [a, b].map(([xM, yM, zM]) => levelDb(solved.pressureAt({ xM, yM, zM }))) as [number, number]
      return Math.abs(p - q)
    }
    for (const [x, y] of [
      [2, 0],
      [0, 1.5],
      [-1, 0.9],
    ] as const) {
      // Without the front edges it would be all or nothing. 0.5 dB: sound from edge to edge across the front is left out.
      expect(stepDb([x, y, 1e-4], [x, y, -1e-4])).toBeLessThan(0.5)
      expect(stepDb([x, y, 0], [x, y, -2e-4])).toBeLessThan(0.5)
    }
    for (const [x, y, z] of [
      [0.16, 0, -2],
      [0.05, 0.28, -1.2],
      [-0.16, 0.1, -0.6],
    ] as const) {
      // Without the rear edges the front edges' sound would break off here. 0.1 dB: the true slope over 0.2 mm
      expect(stepDb([x - 1e-4, y - 1e-4, z], [x + 1e-4, y + 1e-4, z])).toBeLessThan(0.1)
    }
  })

  it('alone, without an anchor, agrees with boundary elements at 2 kHz', () => {
    const tweeter = box([{ kind: 'piston', radiusM: 0.012, xM: 0.03, yM: 0.1 }])
    const [alone, solved] = [
      solveCabinet(tweeter, 2000, air, { method: 'high-frequency' }),
      solveCabinet(tweeter, 2000, air, { method: 'boundary-elements' }),
    ]
    for (let i = 0; i <= 18; i++) {
      const angle = (i * Math.PI) / 18
      for (const y of [0, 15, -20]) {
        const point = { xM: 40 * Math.sin(angle), yM: y, zM: 40 * Math.cos(angle) }
        const difference = Math.abs(levelDb(alone.pressureAt(point)) - levelDb(solved.pressureAt(point)))
        // In front edges alone are nearly all; to the side a second turn counts, in the rear two are the rule.
        expect(difference).toBeLessThan(i <= 8 ? 0.5 : i <= 12 ? 1 : 4)
      }
    }
  })

  it('doubles the pressure of a beam on its axis, as a baffle does', () => {
    const solved = solveCabinet(box([woofer]), 10000, air)
    const freeSpace = (10000 * air.densityKgM3) / 2
    expect(20 * Math.log10(magnitude(onAxisFarField(solved, air)) / freeSpace)).toBeCloseTo(20 * Math.log10(2), 1)
  })

  it('holds a horn’s coverage, which a sphere cannot tell apart', () => {
    const solved = solveCabinet(cabinet, 10000, air)
    expect(solved.farFieldDb(60 * degrees, 0)).toBeLessThan(-6)
    expect(solved.farFieldDb(0, 45 * degrees)).toBeLessThan(-6)
    expect(Math.abs(solved.farFieldDb(30 * degrees, 0))).toBeLessThan(3)
    expect(solved.farFieldDb(Math.PI, 0)).toBeLessThan(-20)
  })
})

describe('several sets of drivers in one box', () => {
  const offCentre: Driver = { kind: 'piston', radiusM: 0.05, xM: 0.06, yM: 0.2, gain: -1, delayS: 0.0003 }
  const sets: Driver[][] = [[woofer], [horn], [offCentre], [woofer, horn]]
  const places = [
    { xM: 0.3, yM: 0.1, zM: -2 },
    { xM: -1, yM: 0, zM: 1 },
    { xM: 0.17, yM: 0, zM: -0.1 },
  ]

  // 700 Hz: boundary elements; 5 kHz: the high-frequency model, each set with its own anchor
  it.each([700, 5000])('solved together at %i Hz are to the last bit what each is alone', (frequencyHz) => {
    const together = solveDriverSets(box([]), sets, frequencyHz, air)
    expect(together).toHaveLength(sets.length)
    for (const [index, drivers] of sets.entries()) {
      const one = together[index]
      // At 5 kHz with the anchor that was kept for these drivers when they were solved with the others.
      const alone = solveCabinet(box(drivers), frequencyHz, air)
      expect(one?.method).toBe(alone?.method)
      expect(one?.unknowns).toBe(alone?.unknowns)
      expect(one?.estimatedErrorDb).toBe(alone?.estimatedErrorDb)
      for (const place of places) expect(one?.pressureAt(place)).toEqual(alone?.pressureAt(place))
      expect(one?.powerW).toBe(alone?.powerW)
      expect(one?.expansion).toEqual(alone?.expansion)
    }
  })

  it('are refused where one of them is no cabinet, or where there is none', () => {
    expect(() => solveDriverSets(box([]), [[woofer], []], 100, air)).toThrow(/drivers.length is 0/)
    expect(() => solveDriverSets(box([]), [], 100, air)).toThrow(/driverSets.length is 0/)
  })
})

describe('solveCabinet refuses', () => {
  it('what is out of range, in words', () => {
    const cabinet = box([woofer])
    expect(() => solveCabinet({ ...cabinet, depthM: 0 }, 100, air)).toThrow(/cabinet.depthM is 0; allowed is/)
    expect(() => solveCabinet(cabinet, 0, air)).toThrow(/frequencyHz is 0; allowed is/)
    expect(() => solveCabinet(cabinet, Number.NaN, air)).toThrow(RangeError)
    expect(() => solveCabinet(cabinet, 100, { ...air, densityKgM3: 0 })).toThrow(/air.densityKgM3 is 0/)
    expect(() => solveCabinet(cabinet, 100, air, { elementsPerWavelength: 1 })).toThrow(/elementsPerWavelength is 1/)
    expect(() => solveCabinet(cabinet, 100, air, { method: 'fast' as 'auto' })).toThrow(/options.method is fast/)
    expect(() => solveCabinet(cabinet, 20000, air, { method: 'boundary-elements' })).toThrow(
      /frequencyHz is 20000; allowed for this cabinet with boundary elements is at most \d+ Hz/,
    )
    expect(() => solveCabinet(cabinet, 500000, air)).toThrow(/frequencyHz is 500000; allowed is a finite number up to/)
  })
  it('a place inside the box, at any frequency, and allows its surface', () => {
    for (const frequencyHz of [100, 4000]) {
      const solved = solveCabinet(box([woofer]), frequencyHz, air)
      expect(() => solved.pressureAt({ xM: 0, yM: 0, zM: -0.1 })).toThrow(
        /inside the cabinet; allowed is any point outside/,
      )
      expect(() => solved.pressureAt({ xM: Number.NaN, yM: 0, zM: 1 })).toThrow(RangeError)
      for (const point of [
        { xM: 0, yM: 0.1, zM: 0 },
        { xM: 0.16, yM: 0, zM: -0.1 },
        { xM: 0.16, yM: 0.28, zM: -0.3 },
        { xM: 0, yM: 0, zM: -0.3 },
      ]) {
        expect(Number.isFinite(levelDb(solved.pressureAt(point)))).toBe(true)
      }
    }
  })
})
