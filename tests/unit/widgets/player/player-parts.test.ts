import { expect, test } from 'vitest'
import { linkedChoice } from '../../../../src/widgets/player/linked-choice.ts'
import { levelUnderCeiling } from '../../../../src/widgets/player/meter-level.ts'
import { riseSteps } from '../../../../src/widgets/player/soft-start.ts'

const chosen = (query: string) => linkedChoice(new URLSearchParams(query))

test('a link chooses the sound of its page', () => {
  expect(chosen('walk.v=1&walk.signal=music&walk.level=matched')).toEqual({ signal: 'music', level: 'matched' })
  expect(chosen('walk.signal=music&wall.level=true')).toEqual({ signal: 'music', level: 'true' })
  expect(chosen('')).toEqual({})
})

test('a link that says two things, or what there is not, or speaks of the blind comparison, chooses nothing', () => {
  expect(chosen('walk.signal=music&column.signal=speech')).toEqual({})
  expect(chosen('walk.signal=rain&walk.level=loud')).toEqual({})
  expect(chosen('blind.signal=speech')).toEqual({})
  expect(chosen('contour.levelDb=90&signal=music')).toEqual({})
})

test('a peak is so many decibels under the ceiling, 60 at most', () => {
  expect(levelUnderCeiling(0.5, 0.5)).toBe(0)
  expect(levelUnderCeiling(0.05, 0.5)).toBeCloseTo(-20, 9)
  expect(levelUnderCeiling(1, 0.5)).toBe(0)
  expect(levelUnderCeiling(1e-9, 0.5)).toBe(-60)
  expect(levelUnderCeiling(0, 0.5)).toBe(-60)
})

test('a sound that starts comes up without a jump that startles', () => {
  const { depthsDb } = riseSteps
  expect(depthsDb[0]).toBeGreaterThanOrEqual(12)
  // 2 dB: a step that is heard as a little louder, no more.
  for (const [index, depth] of depthsDb.entries()) {
    const next = depthsDb[index + 1] ?? 0
    expect(depth - next).toBeGreaterThan(0)
    expect(depth - next).toBeLessThanOrEqual(2)
  }
})
