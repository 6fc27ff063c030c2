import { describe, expect, test } from 'vitest'
import {
  bestOf,
  betterResult,
  type CheckResult,
  type LessonCheck,
  laterResult,
  mergedCheck,
  withDone,
} from '../../../src/state/check-results.ts'

const result = (right: number, on: string, passed?: boolean): CheckResult => ({
  right,
  of: 8,
  on,
  ...(passed !== undefined && { passed }),
})
const [good, poor] = [result(8, '2026-11-01'), result(3, '2026-11-20')]

describe('of two results', () => {
  test('the better one is the one with more right, of equal ones the later; passed comes first', () => {
    expect(betterResult(good, poor)).toBe(good)
    expect(betterResult(poor, good)).toBe(good)
    const again = result(8, '2026-11-30')
    expect(betterResult(good, again)).toBe(again)
    const [passed, more] = [result(6, '2026-01-01', true), result(7, '2026-02-01', false)]
    expect(betterResult(more, passed)).toBe(passed)
    expect(betterResult(undefined, poor)).toBe(poor)
  })

  test('a part of the whole counts, not the number', () => {
    const short = { right: 4, of: 4, on: '2026-01-01' }
    expect(betterResult(result(6, '2026-02-01'), short)).toBe(short)
  })

  test('the later one is of the later day, and of one day the better', () => {
    expect(laterResult(good, poor)).toBe(poor)
    const same = result(5, '2026-11-20')
    expect(laterResult(poor, same)).toBe(same)
  })
})

test('the best result stays when a poorer one follows, and goes when it is beaten', () => {
  const first = withDone({}, good)
  expect(first).toEqual({ done: good })
  const second = withDone(first, poor)
  expect(second).toEqual({ done: poor, best: good })
  expect(bestOf(second)).toBe(good)
  const third = withDone(second, result(8, '2026-12-01'))
  expect(third).toEqual({ done: result(8, '2026-12-01') })
})

test('what an older page has left without a best one keeps it', () => {
  expect(withDone({ done: good }, poor)).toEqual({ done: poor, best: good })
})

describe('what two devices keep becomes one', () => {
  const days = ['2026-10-31', '2026-11-01', '2026-11-02']
  const results = days.flatMap((on) => [2, 5, 8].flatMap((right) => [result(right, on), result(right, on, right > 5)]))
  const checks: LessonCheck[] = [
    {},
    ...results.map((done) => ({ done })),
    ...results.slice(0, 6).flatMap((done) => results.slice(9).map((best) => withDone({ done: best }, done))),
  ]

  test('no better and no later result is ever lost, whichever device is first', () => {
    for (const here of checks)
      for (const other of checks) {
        const merged = mergedCheck(here, other)
        const [swapped, twice] = [mergedCheck(other, here), mergedCheck(merged, other)]
        const what = JSON.stringify([here, other])
        expect(bestOf(merged), what).toEqual(betterResult(bestOf(here), bestOf(other)))
        expect(merged.done, what).toEqual(laterResult(here.done, other.done))
        expect(swapped, what).toEqual(merged)
        expect(twice, what).toEqual(merged)
      }
  })

  test('taken in where there is nothing it is what it was', () => {
    const going = { seed: 4, of: 8, results: [true, false] }
    for (const check of checks) {
      expect(mergedCheck({}, check)).toEqual(check)
      expect(mergedCheck({}, { ...check, going })).toEqual({ ...check, going })
      expect(mergedCheck({ ...check, going }, { ...check, going })).toEqual({ ...check, going })
    }
  })

  test('a check that goes on here goes on; of the same numbers the one that is further', () => {
    const of = (seed: number, ...results: boolean[]) => ({ going: { seed, of: 3, results } })
    expect(mergedCheck(of(1, true), of(2, true, true))).toEqual(of(1, true))
    expect(mergedCheck(of(1), of(2, true))).toEqual(of(2, true))
    expect(mergedCheck(of(1, true, true, true), of(2, true))).toEqual(of(2, true))
    expect(mergedCheck(of(1, true), of(1, true, false))).toEqual(of(1, true, false))
    expect(mergedCheck(of(1, true, false), of(1, true))).toEqual(of(1, true, false))
  })
})
