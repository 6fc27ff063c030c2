import { expect, it } from 'vitest'
import type { ComparedBand } from '../../../../src/acoustics/index.ts'
import { differenceLines, differenceRangeDb } from '../../../../src/widgets/compare/difference-lines.ts'

const band = (nominalHz: number, levelDb: number | null): ComparedBand =>
  ({
    nominalHz,
    difference: levelDb === null ? null : { levelDb, errorDb: 0.5, freedom: 1e6 },
  }) as unknown as ComparedBand

it('draws what the other place has more than the front, in runs without a gap, with the interval round it', () => {
  const { measured, runs, predicted, zero, yDomain } = differenceLines(
    [band(63, 2), band(125, null), band(250, 20), band(500, 45)],
    [-1, -2, -3, -4],
  )
  expect(measured.map(({ x, y }) => [x, y])).toEqual([
    [63, -2],
    [250, -20],
    [500, -45],
  ])
  for (const { y, from, to } of measured) {
    expect(from).toBeLessThan(y)
    expect(to).toBeGreaterThan(y)
    // 1.96 standard errors either way (normal distribution, two-sided 95 %).
    expect(to - from).toBeCloseTo(2 * 1.96 * 0.5, 2)
  }
  expect(runs.map((run) => run.length)).toEqual([1, 2])
  expect(predicted.map(({ y }) => y)).toEqual([-1, -2, -3, -4])
  expect(zero.every(({ y }) => y === 0)).toBe(true)
  expect(yDomain).toEqual([-50, 10])
})

it('keeps its range while levels stay within the usual', () => {
  expect(differenceRangeDb([])).toEqual([-30, 10])
  expect(differenceRangeDb([9, -12])).toEqual([-30, 10])
  expect(differenceRangeDb([10.1, -31])).toEqual([-40, 20])
})
