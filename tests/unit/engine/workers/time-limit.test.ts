import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { TimeLimitError, withTimeLimit } from '../../../../src/engine/workers/time-limit.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

test('what comes in time is handed on, and no timer is left', async () => {
  await expect(withTimeLimit(Promise.resolve(7), 30, 'Counting')).resolves.toBe(7)
  await expect(withTimeLimit(Promise.reject(new Error('no paper')), 30, 'Drawing')).rejects.toThrow('no paper')
  expect(vi.getTimerCount()).toBe(0)
})

test('what never comes is given up at the limit and not before, in words', async () => {
  let outcome: unknown = 'waiting'
  withTimeLimit(new Promise(() => {}), 30, 'Making the sound').catch((error: unknown) => {
    outcome = error
  })
  await vi.advanceTimersByTimeAsync(29_999)
  expect(outcome).toBe('waiting')
  await vi.advanceTimersByTimeAsync(1)
  expect(outcome).toEqual(new TimeLimitError('Making the sound took longer than 30 seconds.'))
})

test('an error that comes after the limit is nobody’s any more', async () => {
  const unhandled = vi.fn()
  process.on('unhandledRejection', unhandled)
  let fail = (_: Error) => {}
  const late = new Promise<never>((_, reject) => {
    fail = reject
  })
  const given = withTimeLimit(late, 1, 'Waiting').catch((error: unknown) => error)
  await vi.advanceTimersByTimeAsync(1000)
  expect(await given).toEqual(new TimeLimitError('Waiting took longer than 1 second.'))
  fail(new Error('late'))
  vi.useRealTimers()
  await new Promise((resolve) => setImmediate(resolve))
  process.off('unhandledRejection', unhandled)
  expect(unhandled).not.toHaveBeenCalled()
})

test('a limit that no timer can count is refused', async () => {
  for (const limitS of [0, -1, Number.NaN, 2_147_484])
    await expect(withTimeLimit(Promise.resolve(), limitS, 'Waiting')).rejects.toThrow(RangeError)
})
