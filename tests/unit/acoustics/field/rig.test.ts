import { describe, expect, it } from 'vitest'
import columnOnBase from '../../../../content/gear/column-on-base.json' with { type: 'json' }
import compactTwoWay from '../../../../content/gear/compact-two-way.json' with { type: 'json' }
import topOverSub from '../../../../content/gear/top-over-sub.json' with { type: 'json' }
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { add, magnitude } from '../../../../src/acoustics/complex.ts'
import { bandLevelsDb, groupLevelDb } from '../../../../src/acoustics/field/band-levels.ts'
import {
  type DistanceDatum,
  frontPlaceAtSameDistance,
  placePoint,
} from '../../../../src/acoustics/field/listening-place.ts'
import { cabinetAround, checkRig, type Rig, toCabinetPoint } from '../../../../src/acoustics/field/rig.ts'
import { rigField } from '../../../../src/acoustics/field/rig-field.ts'
import { wayResponse } from '../../../../src/acoustics/field/voiced-way.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import type { CabinetModel } from '../../../../src/acoustics/radiation/cabinet.ts'
import { monopole } from '../../../../src/acoustics/radiation/monopole.ts'

const air = makeAir()
const rigs = [topOverSub as Rig, columnOnBase as Rig, compactTwoWay as Rig]
const bands = thirdOctaveBands(25, 16_000)
const earHeightM = 1.6

/** Level behind less level in front at the same measured distance, for two groups of bands. */
function rearLessFrontDb(rig: Rig, distanceM: number, datum: DistanceDatum) {
  const field = rigField(rig, air)
  const behind = { angleRad: Math.PI, distanceM }
  const front = frontPlaceAtSameDistance(behind, rig, datum)
  const [rear, ahead] = [behind, front].map((place) =>
    bandLevelsDb((frequencyHz) => field.transferAt(placePoint(place, earHeightM), frequencyHz), bands),
  ) as [Float64Array, Float64Array]
  const group = (fromHz: number, toHz: number) =>
    groupLevelDb(rear, bands, fromHz, toHz) - groupLevelDb(ahead, bands, fromHz, toHz)
  return { bassDb: group(40, 160), trebleDb: group(2000, 16_000) }
}

describe('the demo rigs', () => {
  it('pass the check of a rig', () => {
    for (const rig of rigs) expect(checkRig(rig)).toBe(rig)
  })

  it('are as loud far in front as their crossovers add up to, on each cabinet’s axis', () => {
    for (const rig of rigs) {
      const field = rigField(rig, air)
      for (const frequencyHz of [31.5, 63, 100, 200, 1000, 1800, 2200, 10_000]) {
        let ways = { re: 0, im: 0 }
        for (const cabinet of rig.cabinets)
          for (const way of cabinet.ways) ways = add(ways, wayResponse(way, frequencyHz))
        const zM = 2e4
        const level = magnitude(field.transferAt({ xM: 0, yM: 1.6, zM }, frequencyHz)) * zM
        expect(20 * Math.log10(level / magnitude(ways)), `${rig.name} ${frequencyHz} Hz`).toBeCloseTo(0, 2)
      }
    }
  })

  it('are flat on axis within 1.5 dB from an octave above their lower limit', () => {
    // The phase of the sub's own high-pass makes the top-over-sub dip by 1.5 dB round its crossover at 100 Hz.
    for (const [rig, fromHz] of [
      [topOverSub, 70],
      [columnOnBase, 90],
      [compactTwoWay, 130],
    ] as const) {
      const field = rigField(rig as Rig, air)
      for (let frequencyHz = fromHz; frequencyHz < 20_000; frequencyHz *= 1.2) {
        const level = 20 * Math.log10(magnitude(field.transferAt({ xM: 0, yM: 1.6, zM: 2e4 }, frequencyHz)) * 2e4)
        expect(Math.abs(level), `${rig.name} ${frequencyHz} Hz`).toBeLessThan(1.6)
      }
    }
  })

  it('lose treble behind by far more than bass, and gain bass there nowhere, from either datum', () => {
    for (const rig of rigs) {
      for (const datum of ['front-face', 'nearest-face'] as const) {
        for (const distanceM of [2, 4]) {
          const { bassDb, trebleDb } = rearLessFrontDb(rig, distanceM, datum)
          expect(bassDb, rig.name).toBeLessThan(0)
          expect(bassDb, rig.name).toBeGreaterThan(-6)
          expect(trebleDb, rig.name).toBeLessThan(bassDb - 5)
        }
      }
    }
  })

  it('show most of the bass difference of a tape held against the box as geometry', () => {
    // Same distance from the nearest face: behind, the front face is a whole depth farther away.
    for (const rig of rigs) {
      const fromFront = rearLessFrontDb(rig, 2, 'front-face').bassDb
      const fromNearest = rearLessFrontDb(rig, 2, 'nearest-face').bassDb
      expect(fromNearest, rig.name).toBeLessThan(fromFront - 0.5)
    }
  })
})

describe('the field of a rig', () => {
  const compact = compactTwoWay as Rig

  it('is silent at 0 Hz and where every way is shut', () => {
    const field = rigField(compact, air)
    expect(field.transferAt({ xM: 0, yM: 1.6, zM: 2 }, 0)).toEqual({ re: 0, im: 0 })
    expect(magnitude(field.transferAt({ xM: 0, yM: 1.6, zM: 2 }, 1))).toBe(0)
  })

  it('turns with the yaw of its cabinet, toward +x', () => {
    const turned: Rig = { name: 'turned', cabinets: [{ ...(compact.cabinets[0] as Rig['cabinets'][0]), yawRad: 0.7 }] }
    const straight = rigField(compact, air).transferAt({ xM: 0, yM: 1.6, zM: 3 }, 3000)
    const aside = rigField(turned, air).transferAt({ xM: 3 * Math.sin(0.7), yM: 1.6, zM: 3 * Math.cos(0.7) }, 3000)
    expect(aside.re).toBeCloseTo(straight.re, 12)
    expect(aside.im).toBeCloseTo(straight.im, 12)
    expect(toCabinetPoint(turned.cabinets[0] as Rig['cabinets'][0], { xM: 1, yM: 1.6, zM: 0 }).zM).toBeCloseTo(
      Math.sin(0.7),
      12,
    )
  })

  it('adds two cabinets side by side to +6 dB in the middle', () => {
    const one = compact.cabinets[0] as Rig['cabinets'][0]
    const pair: Rig = {
      name: 'pair',
      cabinets: [-1, 1].map((side) => ({
        ...one,
        name: `side ${side}`,
        frontCentre: { ...one.frontCentre, xM: side * 0.5 },
      })),
    }
    const single: Rig = { name: 'single', cabinets: [pair.cabinets[0] as Rig['cabinets'][0]] }
    const listener = { xM: 0, yM: 1.6, zM: 4 }
    const both = magnitude(rigField(pair, air).transferAt(listener, 400))
    const alone = magnitude(rigField(single, air).transferAt(listener, 400))
    expect(both / alone).toBeCloseTo(2, 10)
  })

  it('takes any other model of a cabinet, and asks it once per way and frequency', () => {
    let asked = 0
    const point: CabinetModel = (_cabinet, frequencyHz, medium) => {
      asked += 1
      return monopole(frequencyHz, medium)
    }
    const field = rigField(compact, air, point)
    const transfer = field.transferAt({ xM: 0, yM: 1.6, zM: -3 }, 500)
    field.transferAt({ xM: 1, yM: 1.6, zM: -3 }, 500)
    expect(asked).toBe(2)
    // With point sources what is left is 1/r and the crossovers, which add to 1 but for the horn's missing 65 Hz slope.
    expect(magnitude(transfer) * 3).toBeCloseTo(1, 2)
  })

  it('forgets old frequencies and still gives the same answer', () => {
    const field = rigField(compact, air)
    const listener = { xM: 0.5, yM: 1.6, zM: -2 }
    const first = field.transferAt(listener, 100)
    for (let i = 1; i <= 600; i++) field.transferAt(listener, 100 + i)
    expect(field.transferAt(listener, 100)).toEqual(first)
  })

  it('refuses a listener inside a cabinet by its name, and broken input', () => {
    const field = rigField(topOverSub as Rig, air)
    expect(() => field.transferAt({ xM: 0, yM: 0.3, zM: -0.3 }, 100)).toThrow(/inside the cabinet 'sub'/)
    expect(() => field.transferAt({ xM: 0, yM: 1.9, zM: -0.1 }, 100)).toThrow(/inside the cabinet 'top'/)
    expect(cabinetAround(topOverSub as Rig, { xM: 0, yM: 1.2, zM: -0.1 })).toBeUndefined()
    expect(() => field.transferAt({ xM: Number.NaN, yM: 1.2, zM: 1 }, 100)).toThrow(/listener.xM/)
    expect(() => field.transferAt({ xM: 0, yM: 1.2, zM: 1 }, -1)).toThrow(/frequencyHz/)
    expect(() => field.transferAt({ xM: 0, yM: 1.2, zM: 1 }, 100_001)).toThrow(/frequencyHz/)
  })

  it('refuses nonsense in a rig', () => {
    const one = compact.cabinets[0] as Rig['cabinets'][0]
    const withCabinet = (change: object) => () => checkRig({ name: 'x', cabinets: [{ ...one, ...change }] })
    expect(() => checkRig({ name: 'x', cabinets: [] })).toThrow(/cabinets.length is 0/)
    expect(() => checkRig({ name: 'x', cabinets: [one, one] })).toThrow(/occurs twice/)
    expect(withCabinet({ widthM: 0 })).toThrow(/widthM is 0/)
    expect(withCabinet({ frontCentre: { xM: 0, yM: 0.2, zM: 0 } })).toThrow(/frontCentre.yM is 0.2/)
    expect(withCabinet({ yawRad: 7 })).toThrow(/yawRad/)
    expect(withCabinet({ ways: [] })).toThrow(/ways.length/)
    const woofer = one.ways[0] as Rig['cabinets'][0]['ways'][0]
    const crossed = { ...woofer, lowPass: { alignment: 'butterworth', order: 2, frequencyHz: 50 } }
    expect(withCabinet({ ways: [crossed] })).toThrow(/highPass.frequencyHz is 65/)
    expect(withCabinet({ ways: [{ ...woofer, drivers: [{ ...woofer.drivers[0], xM: 0.2 }] }] })).toThrow(/xM is 0.2/)
  })
})
