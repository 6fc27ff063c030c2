import { expect, test } from 'vitest'
import { solvingWords } from '../../../../src/widgets/rig-choice/describe-solving.ts'

test('the words follow the work from the first step to every way that it may end', () => {
  expect(solvingWords(undefined, undefined)).toBe('')
  expect(solvingWords({ done: 40, total: 96 }, undefined)).toContain('40 of 96 steps')
  expect(solvingWords({ done: 96, total: 96 }, 'solved')).toContain('kept on this device')
  // Known from before: nothing was waited for, so nothing is said.
  expect(solvingWords(undefined, 'solved')).toBe('')
  expect(solvingWords({ done: 4, total: 96 }, 'stopped')).toContain('hard ball')
  expect(solvingWords(undefined, 'no-workers')).toContain('in the background')
  expect(solvingWords({ done: 4, total: 96 }, 'failed', 'depthM is 0')).toContain('(depthM is 0)')
})
