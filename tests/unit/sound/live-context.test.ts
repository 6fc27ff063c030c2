import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { openLiveContext, watchContext } from '../../../src/sound/live-context.ts'
import { soundLimitsS } from '../../../src/sound/sound-limits.ts'

/** An audio context from outside: what it answers to `resume` is up to the test. */
class FakeContext extends EventTarget {
  state: string = 'suspended'
  suspends = 0
  /** 'late': resolves first and runs afterwards. 'never': as without a device. */
  onResume: 'run' | 'late' | 'refuse' | 'never' = 'run'

  turn(state: string): void {
    this.state = state
    this.dispatchEvent(new Event('statechange'))
  }
  async resume(): Promise<void> {
    if (this.onResume === 'refuse' || this.state === 'closed') throw new DOMException('not allowed', 'NotAllowedError')
    if (this.onResume === 'never') return new Promise(() => {})
    if (this.onResume === 'run') this.turn('running')
  }
  async suspend(): Promise<void> {
    this.suspends++
    if (this.state === 'closed') throw new DOMException('closed', 'InvalidStateError')
    if (this.state !== 'suspended') this.turn('suspended')
  }
}

const watched = () => {
  const context = new FakeContext()
  const onTaken = vi.fn()
  const waking = watchContext(context as unknown as AudioContext, onTaken)
  return { context, onTaken, ...waking }
}
const doesNotStart = /^The sound does not start\./

test('without Web Audio the reader is told what still works', () => {
  expect(openLiveContext).toThrow('This browser has no Web Audio; the page still explains and draws.')
})

describe('waking', () => {
  beforeEach(() => {
    vi.useFakeTimers()
  })
  afterEach(() => {
    vi.useRealTimers()
  })

  test('is done when the context runs, not before', async () => {
    const { context, wake } = watched()
    context.onResume = 'late'
    let done = false
    const waiting = wake().then(() => {
      done = true
    })
    await vi.advanceTimersByTimeAsync(1000)
    expect(done).toBe(false)
    context.turn('running')
    await waiting
    expect(done).toBe(true)
    expect(vi.getTimerCount()).toBe(0)
  })

  test('that is refused is told, and can be tried again', async () => {
    const { context, onTaken, wake } = watched()
    context.onResume = 'refuse'
    await expect(wake()).rejects.toThrow(doesNotStart)
    context.onResume = 'run'
    await wake()
    expect(context.state).toBe('running')
    expect(onTaken).not.toHaveBeenCalled()
  })

  test('that nothing answers is told at the limit; a device that comes later brings no sound by itself', async () => {
    const { context, onTaken, wake } = watched()
    context.onResume = 'never'
    const outcome = wake().catch((error: Error) => error.message)
    await vi.advanceTimersByTimeAsync(soundLimitsS.waking * 1000)
    expect(await outcome).toMatch(doesNotStart)
    expect(context.suspends).toBe(1)
    context.onResume = 'run'
    await wake()
    expect(onTaken).not.toHaveBeenCalled()
  })

  test('ends quietly when the sound is stopped before it begins', async () => {
    const { context, onTaken, wake, sleep } = watched()
    context.onResume = 'never'
    const waiting = wake()
    sleep()
    await waiting
    expect(context.suspends).toBe(1)
    expect(vi.getTimerCount()).toBe(0)
    expect(onTaken).not.toHaveBeenCalled()
  })

  test('twice at once is one waiting', async () => {
    const { context, wake } = watched()
    context.onResume = 'refuse'
    const outcomes = await Promise.allSettled([wake(), wake()])
    expect(outcomes.map(({ status }) => status)).toEqual(['rejected', 'rejected'])
    context.onResume = 'run'
    await Promise.all([wake(), wake()])
    expect(context.state).toBe('running')
  })
})

describe('a context that is awake', () => {
  for (const state of ['suspended', 'interrupted', 'closed']) {
    test(`and becomes ${state} is told of once, and does not come back by itself`, async () => {
      const { context, onTaken, wake } = watched()
      await wake()
      context.turn(state)
      expect(onTaken.mock.calls).toEqual([[expect.stringMatching(/^The sound has stopped/)]])
      // Asleep by our own wish: when a call is over the browser wakes only what it put to sleep itself.
      expect(context.suspends).toBe(1)
      if (state === 'closed') await expect(wake()).rejects.toThrow(doesNotStart)
      else await wake()
      expect(onTaken).toHaveBeenCalledOnce()
    })
  }

  test('is put to sleep by us without a word, also when it is woken again before it sleeps', async () => {
    const { context, onTaken, wake, sleep } = watched()
    await wake()
    sleep()
    await wake()
    context.suspend = async () => {}
    sleep()
    context.onResume = 'late'
    const waiting = wake()
    context.turn('suspended')
    context.turn('running')
    await waiting
    expect(onTaken).not.toHaveBeenCalled()
  })
})
