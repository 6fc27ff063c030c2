import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { loadSound } from '../../../src/sound/load-sound.ts'
import { soundLimitsS } from '../../../src/sound/sound-limits.ts'

const messageOf = (waiting: Promise<unknown>) =>
  waiting.then(
    () => 'came',
    (error: Error) => error.message,
  )

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

test('the sound code is handed on; if it cannot be had, or not in time, the reader is told so in plain words', async () => {
  expect(await loadSound(Promise.resolve('code'))).toBe('code')
  const notLoaded = /^The sound could not be loaded\./
  expect(await messageOf(loadSound(Promise.reject(new TypeError('Failed to fetch module'))))).toMatch(notLoaded)
  const outcome = messageOf(loadSound(new Promise(() => {})))
  await vi.advanceTimersByTimeAsync(soundLimitsS.code * 1000)
  expect(await outcome).toMatch(notLoaded)
})
