import { scaleLinear, scaleLog } from 'd3-scale'
import { describe, expect, test } from 'vitest'
import { linearScale, logScale } from '../../../src/charts/scale.ts'

describe('scales', () => {
  test('a linear scale and a logarithmic one place and take back values as d3’s do', () => {
    for (const value of [-30, -12.5, 0, 7, 40]) {
      const [ours, theirs] = [linearScale([-30, 10], [320, 0]), scaleLinear([-30, 10], [320, 0])]
      expect(ours(value)).toBeCloseTo(theirs(value), 9)
      expect(ours.invert(ours(value))).toBeCloseTo(value, 9)
    }
    for (const value of [20, 31.5, 1000, 20000]) {
      const [ours, theirs] = [logScale([20, 20000], [0, 480]), scaleLog([20, 20000], [0, 480])]
      expect(ours(value)).toBeCloseTo(theirs(value), 9)
      expect(ours.invert(ours(value))).toBeCloseTo(value, 6)
    }
  })

  test('round values lie between the ends, as d3 chooses them', () => {
    for (const [domain, count] of [
      [[-30, 10], 5],
      [[0, 1], 5],
      [[0, 0.3], 3],
      [[-40, 0], 8],
      [[0, 24], 5],
      [[0, 65], 6],
    ] as const)
      expect(linearScale(domain, [0, 100]).ticks(count)).toEqual(scaleLinear(domain, [0, 100]).ticks(count))
  })
})
