import { afterEach, expect, test, vi } from 'vitest'
import { createLoopStore } from '../../../src/sound/signal-loop.ts'
import { soundLimitsS } from '../../../src/sound/sound-limits.ts'

const loop = new Float32Array([0.1, -0.1])

afterEach(() => {
  vi.useRealTimers()
})

test('a loop is made once', async () => {
  const make = vi.fn(async () => loop)
  const loopOf = createLoopStore(48000, make)
  expect(await loopOf('music')).toBe(loop)
  expect(await loopOf('music')).toBe(loop)
  await loopOf('speech')
  expect(make.mock.calls).toEqual([
    ['music', 48000],
    ['speech', 48000],
  ])
})

test('a loop that could not be made is told by its name, and made when it is asked for again', async () => {
  const make = vi.fn(async () => loop).mockRejectedValueOnce(new Error('no memory'))
  const loopOf = createLoopStore(48000, make)
  await expect(loopOf('music')).rejects.toThrow('The music could not be made. (no memory)')
  expect(await loopOf('music')).toBe(loop)
})

test('a loop that does not come is given up at the limit, and made when it is asked for again', async () => {
  vi.useFakeTimers()
  const make = vi.fn(async () => loop).mockReturnValueOnce(new Promise(() => {}))
  const loopOf = createLoopStore(48000, make)
  const outcome = loopOf('music').catch((error: Error) => error.message)
  await vi.advanceTimersByTimeAsync(soundLimitsS.loop * 1000)
  expect(await outcome).toBe(`Making the music took longer than ${soundLimitsS.loop} seconds.`)
  expect(await loopOf('music')).toBe(loop)
})
