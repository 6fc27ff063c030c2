import { expect, test } from 'vitest'
import { differenceDb } from '../../../../../src/engine/questions/plan/plan-gain.ts'

test('where nothing plays, as the treble of subs alone, a difference is none instead of no number', () => {
  const silent = Number.NEGATIVE_INFINITY
  expect(differenceDb(silent, silent)).toBe(0)
  expect(differenceDb(silent + 3, silent)).toBe(0)
  expect(differenceDb(93, 95)).toBe(-2)
})
