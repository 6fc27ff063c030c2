import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { PlaceResponses } from '../../../src/sound/audition-types.ts'
import { placeResponses } from '../../../src/sound/place-responses.ts'
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

test('responses are handed on; if they cannot be had, or not in time, the reader is told so in plain words', async () => {
  const responses: PlaceResponses = { here: new Float32Array([1]), front: new Float32Array([1]) }
  expect(await placeResponses(Promise.resolve(responses))).toBe(responses)
  expect(await placeResponses(Promise.resolve(undefined))).toBe(undefined)
  expect(await messageOf(placeResponses(Promise.reject(new Error('the calculation stopped twice'))))).toBe(
    'The sound of the two places could not be made. (the calculation stopped twice)',
  )
  const outcome = messageOf(placeResponses(new Promise(() => {})))
  await vi.advanceTimersByTimeAsync(soundLimitsS.responses * 1000)
  expect(await outcome).toBe(`Making the sound of the two places took longer than ${soundLimitsS.responses} seconds.`)
})
