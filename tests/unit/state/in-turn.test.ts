import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { inTurn } from '../../../src/state/in-turn.ts'
import { FakeStorage } from './fake-page.ts'

type Work = () => unknown
type Options = { signal?: AbortSignal }

/** Locks as the browser has them, as far as they are used here: one holder a name, the others wait in order. */
class FakeLocks {
  readonly held = new Map<string, Promise<unknown>>()
  query = async () => ({ held: [...this.held.keys()].map((name) => ({ name })), pending: [] })
  request = async (name: string, options: Options | Work, callback?: Work) => {
    const work = callback ?? (options as Work)
    const signal = callback ? (options as Options).signal : undefined
    while (this.held.has(name)) {
      const aborted = new Promise((_, fail) => signal?.addEventListener('abort', () => fail(signal.reason)))
      await Promise.race([this.held.get(name)?.catch(() => {}), aborted])
    }
    const holding = Promise.resolve(work())
    this.held.set(name, holding)
    return holding.finally(() => this.held.delete(name))
  }
  /** A lock that some other tab holds. */
  hold = (name: string) => this.held.set(name, new Promise(() => {}))
}

let locks: FakeLocks
let storage: FakeStorage
const list = () => JSON.parse(storage.getItem('list') ?? '[]') as string[]
const add = (entry: string) => () => storage.setItem('list', JSON.stringify([...list(), entry]))

beforeEach(() => {
  vi.useFakeTimers()
  locks = new FakeLocks()
  storage = new FakeStorage()
  vi.stubGlobal('navigator', { locks })
  vi.stubGlobal('localStorage', storage)
})
afterEach(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

/** Lets time pass until a promise has settled; fails when a minute is not enough. */
async function settled<T>(promise: Promise<T>): Promise<T> {
  let done = false
  const end = () => (done = true)
  promise.then(end, end)
  for (let passedMs = 0; passedMs < 60_000 && !done; passedMs += 50) await vi.advanceTimersByTimeAsync(50)
  expect(done).toBe(true)
  return promise
}

test('changes come one after another, and each gives back what its work gave', async () => {
  const addAndTell = (entry: string) => () => {
    add(entry)()
    return entry
  }
  const all = Promise.all(['a', 'b', 'c'].map((entry) => inTurn('list', addAndTell(entry))))
  expect(await settled(all)).toEqual(['a', 'b', 'c'])
  expect(list()).toEqual(['a', 'b', 'c'])
})

test('what another tab has written but has not arrived yet is waited for', async () => {
  // The other tab tells its third change; this tab’s storage still shows the second.
  storage.setItem('list', '["before"]')
  storage.setItem('list.changes', '2')
  locks.hold('list.changes 3')
  setTimeout(() => {
    storage.setItem('list', '["before","theirs"]')
    storage.setItem('list.changes', '3')
  }, 700)
  await settled(inTurn('list', add('ours')))
  expect(list()).toEqual(['before', 'theirs', 'ours'])
  expect(storage.getItem('list.changes')).toBe('4')
  expect((await locks.query()).held).toContainEqual({ name: 'list.changes 4' })
})

test('a change tells of itself for a while, not for ever', async () => {
  await settled(inTurn('list', add('ours')))
  expect([...locks.held.keys()]).toEqual(['list.changes 1'])
  await vi.advanceTimersByTimeAsync(60_000)
  expect(locks.held.size).toBe(0)
})

describe('nobody waits for ever, and the change is made once', () => {
  test.each<[string, () => void]>([
    ['another tab that never gives up its turn', () => locks.hold('list')],
    ['a change of another tab that never arrives', () => locks.hold('list.changes 9')],
    ['a browser without locks', () => vi.stubGlobal('navigator', {})],
    ['no navigator at all', () => vi.stubGlobal('navigator', undefined)],
    [
      'locks that are refused',
      () => vi.stubGlobal('navigator', { locks: { request: async () => Promise.reject(new Error('no')) } }),
    ],
    [
      'locks that cannot be looked at',
      () => {
        locks.query = async () => Promise.reject(new Error('no'))
      },
    ],
  ])('%s', async (_, arrange) => {
    arrange()
    await settled(inTurn('list', add('ours')))
    expect(list()).toEqual(['ours'])
  })

  test('a device that is full, or has no storage', async () => {
    storage.refuses = true
    expect(await settled(inTurn('list', () => 'done'))).toBe('done')
    vi.stubGlobal('localStorage', undefined)
    expect(await settled(inTurn('list', () => 'done'))).toBe('done')
  })
})

test('the error of the work is the caller’s, and the next one has its turn', async () => {
  let worked = 0
  const failing = inTurn('list', () => {
    worked += 1
    throw new Error('spoilt')
  })
  await expect(settled(failing)).rejects.toThrow('spoilt')
  expect(worked).toBe(1)
  await settled(inTurn('list', add('next')))
  expect(list()).toEqual(['next'])
})
