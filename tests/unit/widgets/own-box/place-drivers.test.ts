import { describe, expect, test } from 'vitest'
import { type BoxDriver, plainDriver } from '../../../../src/widgets/own-box/box-design.ts'
import {
  movingDiameterM,
  nominalSizeM,
  usualSizeOf,
  usualSizesIn,
} from '../../../../src/widgets/own-box/nominal-size.ts'
import { allFit, placedDrivers } from '../../../../src/widgets/own-box/place-drivers.ts'

const cone = (inches: number, place: Partial<BoxDriver> = {}): BoxDriver => ({
  ...plainDriver,
  diameterM: movingDiameterM(inches * 0.0254),
  ...place,
})
const horn = (place: Partial<BoxDriver> = {}): BoxDriver => ({ ...plainDriver, kind: 'horn', plays: 'high', ...place })
const face = (widthM: number, heightM: number) => ({ widthM, heightM })

describe('drivers find their place', () => {
  test('what fits stays where it is', () => {
    const drivers = [cone(10, { yM: -0.13 }), horn({ yM: 0.15 })]
    expect(placedDrivers({ ...face(0.4, 0.6), drivers })).toEqual({ drivers })
  })

  test('one that sits on another goes up or down to where it is free; the other stays', () => {
    const drivers = [cone(10), cone(5)]
    const { drivers: placed, needs } = placedDrivers({ ...face(0.4, 0.6), drivers })
    expect(needs).toBeUndefined()
    expect(placed[0]).toEqual(drivers[0])
    expect(placed[1]?.xM).toBe(0)
    expect(Math.abs(placed[1]?.yM ?? 0)).toBeGreaterThan(0.15)
  })

  test('seeded: whatever they are and wherever they were, they fit, or the face is said that they fit on', () => {
    let seed = 7
    const random = () => {
      seed = (seed * 16807) % 2147483647
      return seed / 2147483647
    }
    let [placedCount, refusedCount] = [0, 0]
    for (let run = 0; run < 150; run++) {
      const size = face(0.2 + 0.6 * random(), 0.2 + 1.2 * random())
      const drivers = Array.from({ length: 1 + Math.floor(4 * random()) }, () => {
        const place = { xM: random() - 0.5, yM: random() - 0.5 }
        return random() < 0.7 ? cone(3 + 15 * random(), place) : horn(place)
      })
      const { drivers: placed, needs } = placedDrivers({ ...size, drivers })
      if (needs) {
        refusedCount += 1
        const again = placedDrivers({ ...needs, drivers })
        expect(again.needs).toBeUndefined()
        expect(allFit(again.drivers, needs)).toBe(true)
      } else {
        placedCount += 1
        expect(allFit(placed, size)).toBe(true)
      }
      expect(placed.map(({ diameterM, kind }) => [diameterM, kind])).toEqual(
        drivers.map(({ diameterM, kind }) => [diameterM, kind]),
      )
    }
    expect(placedCount).toBeGreaterThan(20)
    expect(refusedCount).toBeGreaterThan(20)
  })
})

describe('what moves of a driver', () => {
  test('a 15 in driver has a cone of about 33 cm, and every size comes back', () => {
    expect(movingDiameterM(0.381)).toBe(0.33)
    for (const inches of usualSizesIn) {
      const diameterM = movingDiameterM(inches * 0.0254)
      expect(usualSizeOf(diameterM)).toBe(inches)
      expect(nominalSizeM(diameterM) / 0.0254).toBeCloseTo(inches, 6)
    }
    for (let inches = 0.5; inches < 30; inches += 0.37) {
      // Diameters are kept to a tenth of a millimetre.
      expect(Math.abs(nominalSizeM(movingDiameterM(inches * 0.0254)) / 0.0254 - inches)).toBeLessThan(0.006)
      expect(movingDiameterM(inches * 0.0254)).toBeLessThan(inches * 0.0254)
    }
  })
})
