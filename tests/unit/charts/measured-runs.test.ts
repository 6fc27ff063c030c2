import { expect, test } from 'vitest'
import { measuredRuns } from '../../../src/charts/measured-runs.ts'

test('a line is cut where a mark is missing, and nowhere else', () => {
  expect(measuredRuns([])).toEqual([])
  expect(measuredRuns([undefined, undefined])).toEqual([])
  expect(measuredRuns([0, 1, undefined, 2, undefined, undefined, 3, 4])).toEqual([[0, 1], [2], [3, 4]])
})
