import { afterEach, expect, test, vi } from 'vitest'

afterEach(() => {
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
