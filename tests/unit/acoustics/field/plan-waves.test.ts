import { describe, expect, test } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { placeAt, placePoint } from '../../../../src/acoustics/field/listening-place.ts'
import { planGridPoint } from '../../../../src/acoustics/field/plan-grid.ts'
import { planWavesReFront } from '../../../../src/acoustics/field/plan-waves.ts'
import type { Rig } from '../../../../src/acoustics/field/rig.ts'
import { rigField } from '../../../../src/acoustics/field/rig-field.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { sphereCabinetTrustedHz } from '../../../../src/acoustics/radiation/sphere-cabinet.ts'

const air = makeAir()
const rig: Rig = {
  name: 'one box',
  cabinets: [
    {
      name: 'box',
      widthM: 0.3,
      heightM: 0.4,
      depthM: 0.3,
      frontCentre: { xM: 0, yM: 1.6, zM: 0 },
      ways: [{ name: 'cone', drivers: [{ kind: 'piston', radiusM: 0.1, xM: 0, yM: 0 }] }],
    },
  ],
}
const grid = { xMinM: -2, xMaxM: 2, zMinM: -2, zMaxM: 2, columns: 21, rows: 41, heightM: 1.6 }

describe('waves on a plan re the front', () => {
  const field = rigField(rig, air)
  const frequencyHz = 700
  const waves = planWavesReFront(field, grid, frequencyHz)

  test('each place is the transfer function over the front’s magnitude at the same distance', () => {
    for (const [column, row] of [
      [3, 5],
      [10, 2],
      [18, 30],
      [0, 40],
    ] as const) {
      const point = planGridPoint(grid, column, row)
      const expected = field.transferAt(point, frequencyHz)
      const front = magnitude(field.transferAt({ xM: 0, yM: 1.6, zM: Math.hypot(point.xM, point.zM) }, frequencyHz))
      const index = row * grid.columns + column
      // 1e-3: the front is interpolated between 200 steps.
      expect(Math.abs((waves.re[index] ?? 0) - expected.re / front)).toBeLessThan(1e-3)
      expect(Math.abs((waves.im[index] ?? 0) - expected.im / front)).toBeLessThan(1e-3)
    }
  })

  test('inside the box there is nothing, and it is marked', () => {
    const index = 19 * grid.columns + 10
    expect(planGridPoint(grid, 10, 19).zM).toBeCloseTo(-0.1, 9)
    expect([waves.inside[index], waves.re[index], waves.im[index]]).toEqual([1, 0, 0])
  })

  test('grids and frequencies out of range are refused by name', () => {
    expect(() => planWavesReFront(field, { ...grid, columns: 1 }, 100)).toThrow('grid.columns is 1')
    expect(() => planWavesReFront(field, grid, Number.NaN)).toThrow('frequencyHz is NaN')
  })
})

describe('a voiced rig', () => {
  const place = { xM: 0, yM: 1.6, zM: 4 }

  test('is flat and in step at its voicing place, whatever the cabinet does', () => {
    const field = rigField(rig, air, undefined, place)
    for (const frequencyHz of [40, 300, 1000, 4000, 12000]) {
      const { re, im } = field.transferAt(place, frequencyHz)
      const phaseRad = (-2 * Math.PI * frequencyHz * 4) / air.speedOfSoundMps
      expect(re).toBeCloseTo(Math.cos(phaseRad) / 4, 9)
      expect(im).toBeCloseTo(Math.sin(phaseRad) / 4, 9)
    }
  })

  test('differs between two places as the unvoiced one does', () => {
    const [plain, voiced] = [rigField(rig, air), rigField(rig, air, undefined, place)]
    const ratio = (field: typeof plain) =>
      magnitude(field.transferAt({ xM: 0, yM: 1.6, zM: -2 }, 900)) /
      magnitude(field.transferAt({ xM: 1, yM: 1.6, zM: 2 }, 900))
    expect(ratio(voiced)).toBeCloseTo(ratio(plain), 9)
  })

  test('cannot be voiced inside a cabinet', () => {
    const field = rigField(rig, air, undefined, { xM: 0, yM: 1.6, zM: -0.1 })
    expect(() => field.transferAt(place, 100)).toThrow(/inside the cabinet/)
  })
})

test('placeAt is the inverse of placePoint', () => {
  for (const [angleRad, distanceM] of [
    [0, 2],
    [Math.PI / 2, 1],
    [-2.5, 3.3],
    [Math.PI, 0.7],
  ] as const) {
    const back = placeAt(placePoint({ angleRad, distanceM }, 1.6))
    expect(back.angleRad).toBeCloseTo(angleRad, 12)
    expect(back.distanceM).toBeCloseTo(distanceM, 12)
  }
  expect(placeAt({ xM: 0, zM: 0 })).toEqual({ angleRad: 0, distanceM: 0 })
  expect(() => placeAt({ xM: Number.NaN, zM: 0 })).toThrow('point.xM is NaN')
})

test('the sphere model is trusted to kR = 5: 1028 Hz for a top of 0.32 × 0.56 × 0.30 m', () => {
  const drivers = [{ kind: 'piston' as const, radiusM: 0.1, xM: 0, yM: 0 }]
  const surfaceM2 = 2 * (0.32 * 0.56 + 0.32 * 0.3 + 0.56 * 0.3)
  const expectedHz = (5 * 343.2) / (2 * Math.PI * Math.sqrt(surfaceM2 / (4 * Math.PI)))
  expect(sphereCabinetTrustedHz({ widthM: 0.32, heightM: 0.56, depthM: 0.3, drivers }, air)).toBeCloseTo(expectedHz, 6)
})
