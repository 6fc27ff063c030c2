import { describe, expect, test } from 'vitest'
import {
  linesInBand,
  type SteeringLines,
  steeringFigures,
  usableBandHz,
} from '../../../../src/acoustics/field/steering-figures.ts'

const rule = { rejectionDb: 6, frontLossDb: 3 }
const frequenciesHz = [40, 50, 63, 80, 100]
const square = (dB: number) => 10 ** (dB / 10)
const lines = (frontDb: number[], behindDb: number[], distanceDb = 0): SteeringLines => ({
  frequenciesHz,
  front: frontDb.map(square),
  behind: behindDb.map(square),
  stackedFront: frontDb.map(() => 1),
  stackedBehind: frontDb.map(() => 1),
  distanceDb,
})

describe('figures of merit of steered bass', () => {
  test('are level differences on a single line, with the distance taken out of the rejection', () => {
    const figures = steeringFigures(lines([-1, 0, 0, 0, 0], [-12, 0, 0, 0, 0], 4), [0])
    expect(figures.rejectionDb).toBeCloseTo(7, 10)
    expect(figures.frontLossDb).toBeCloseTo(1, 10)
    expect(figures.behindCutDb).toBeCloseTo(12, 10)
  })

  test('are energy averages over several lines: one loud line behind outweighs a silent one', () => {
    // Mean of 1 and 10⁻⁴ behind is 3.01 dB below the loud line alone.
    const { rejectionDb, behindCutDb } = steeringFigures(lines([0, 0, 0, 0, 0], [0, -40, 0, 0, 0]), [0, 1])
    expect(rejectionDb).toBeCloseTo(10 * Math.log10(2 / 1.0001), 10)
    expect(behindCutDb).toBeCloseTo(rejectionDb, 10)
  })

  test('stay finite where nothing is left', () => {
    const silent = { ...lines([0, 0, 0, 0, 0], [0, 0, 0, 0, 0]), behind: [0, 0, 0, 0, 0] }
    expect(steeringFigures(silent, [0, 1]).rejectionDb).toBeGreaterThan(190)
    expect(Number.isFinite(steeringFigures({ ...silent, front: [0, 0, 0, 0, 0] }, [1]).rejectionDb)).toBe(true)
  })

  test('need a line, and numbers', () => {
    expect(() => steeringFigures(lines([0, 0, 0, 0, 0], [0, 0, 0, 0, 0]), [])).toThrow(/among.length is 0/)
    expect(() => steeringFigures(lines([Number.NaN, 0, 0, 0, 0], [0, 0, 0, 0, 0]), [0])).toThrow(/front\[0\] is NaN/)
  })
})

describe('usable band', () => {
  test('is the widest run in which every line keeps both rules', () => {
    expect(usableBandHz(lines([0, 0, 0, 0, 0], [-7, 0, -6, -9, -20]), rule)).toEqual({ fromHz: 63, toHz: 100 })
    expect(usableBandHz(lines([0, 0, 0, -3.1, 0], [-7, -7, -7, -12, -20]), rule)).toEqual({ fromHz: 40, toHz: 63 })
  })

  test('takes the lower of two equal runs, and none where no run is a third of an octave wide', () => {
    expect(usableBandHz(lines([0, 0, 0, 0, 0], [-7, -7, 0, -7, -7]), rule)).toEqual({ fromHz: 40, toHz: 50 })
    expect(usableBandHz(lines([0, 0, 0, 0, 0], [-7, 0, -7, 0, -7]), rule)).toBeNull()
  })

  test('counts rejection at equal distance', () => {
    expect(usableBandHz(lines([0, 0, 0, 0, 0], [-7, -7, -7, -7, -7], 2), rule)).toBeNull()
  })
})

describe('lines of a band', () => {
  test('have both edges, and the nearest one if the band holds none', () => {
    expect(linesInBand(frequenciesHz, { fromHz: 50, toHz: 80 })).toEqual([1, 2, 3])
    expect(linesInBand(frequenciesHz, { fromHz: 64, toHz: 66 })).toEqual([2])
  })
})
