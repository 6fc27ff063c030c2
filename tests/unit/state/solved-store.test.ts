import { afterEach, expect, test, vi } from 'vitest'

afterEach(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
  vi.resetModules()
})

const store = () => import('../../../src/state/solved-store.ts')

test('where there is no database nothing is kept and nothing is thrown', async () => {
  const { keepSolvedTable, readSolvedTable } = await store()
  await expect(keepSolvedTable('box', { lines: [] })).resolves.toBeUndefined()
  await expect(readSolvedTable('box')).resolves.toBeUndefined()
})

test('a browser that refuses its database, at once or later, is one that has nothing', async () => {
  vi.stubGlobal('indexedDB', {
    open() {
      throw new DOMException('denied', 'SecurityError')
    },
  })
  expect(await (await store()).readSolvedTable('box')).toBeUndefined()
  vi.resetModules()
  vi.stubGlobal('indexedDB', {
    open() {
      const request = { onerror: () => {}, error: new Error('no room') }
      queueMicrotask(() => request.onerror())
      return request
    },
  })
  expect(await (await store()).readSolvedTable('box')).toBeUndefined()
})

/** A database that opens at once; what its transactions do is the test's. */
function openDatabase(transaction: () => unknown) {
  vi.stubGlobal('indexedDB', {
    open() {
      const request = { onsuccess: () => {}, result: { transaction } }
      queueMicrotask(() => request.onsuccess())
      return request
    },
  })
}

/** How long a promise takes, ms of the test's clock; fails when it does not settle within a minute. */
async function takesMs(promise: Promise<unknown>): Promise<number> {
  const began = Date.now()
  let took: number | undefined
  promise.then(() => (took = Date.now() - began))
  for (let passed = 0; passed < 60_000 && took === undefined; passed += 100) await vi.advanceTimersByTimeAsync(100)
  expect(took).toBeDefined()
  return took ?? Number.NaN
}

test('a database that never opens is one that has nothing after five seconds, and nobody waits for it twice', async () => {
  vi.useFakeTimers()
  vi.stubGlobal('indexedDB', { open: () => ({}) })
  const { dropSolvedTable, keepSolvedTable, readSolvedTable } = await store()
  const reading = readSolvedTable('box')
  expect(await takesMs(reading)).toBe(5000)
  expect(await reading).toBeUndefined()
  expect(await takesMs(readSolvedTable('box'))).toBeLessThan(1000)
  expect(await takesMs(keepSolvedTable('box', { lines: [] }))).toBeLessThan(1000)
  expect(await takesMs(dropSolvedTable('box'))).toBeLessThan(1000)
})

test('a transaction that never answers is given up after five seconds, whatever it was for', async () => {
  for (const what of ['readSolvedTable', 'keepSolvedTable', 'dropSolvedTable'] as const) {
    vi.resetModules()
    vi.useFakeTimers()
    openDatabase(() => ({
      objectStore: () => ({ get: () => ({}), put: () => ({}), count: () => ({}), delete: () => ({}) }),
    }))
    const work = (await store())[what]('box', { lines: [] })
    expect(await takesMs(work), what).toBe(5000)
    expect(await work).toBeUndefined()
  }
})

test('a database that answers late is asked again', async () => {
  vi.useFakeTimers()
  const opening: { onsuccess?: () => void; result?: unknown } = {}
  vi.stubGlobal('indexedDB', { open: () => opening })
  const { readSolvedTable } = await store()
  expect(await takesMs(readSolvedTable('box'))).toBe(5000)
  opening.result = {
    transaction() {
      const found = { result: { key: 'box', usedAt: 0, table: 'kept' }, onsuccess: () => {} }
      const transaction = {
        oncomplete: () => {},
        objectStore: () => ({ get: () => found, put: () => ({}) }),
      }
      setTimeout(() => found.onsuccess(), 5)
      setTimeout(() => transaction.oncomplete(), 10)
      return transaction
    },
  }
  opening.onsuccess?.()
  await vi.advanceTimersByTimeAsync(100)
  const late = readSolvedTable('box')
  expect(await takesMs(late)).toBeLessThan(1000)
  expect(await late).toBe('kept')
})
