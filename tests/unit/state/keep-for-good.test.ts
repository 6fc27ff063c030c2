import { afterEach, expect, test, vi } from 'vitest'

afterEach(() => {
  vi.unstubAllGlobals()
  vi.resetModules()
})
const fresh = async () => (await import('../../../src/state/keep-for-good.ts')).keepForGood

test('the browser is asked once a page, and its refusal is nothing', async () => {
  const persist = vi.fn(() => Promise.reject(new Error('no')))
  vi.stubGlobal('navigator', { storage: { persist } })
  const keepForGood = await fresh()
  for (let times = 0; times < 3; times++) keepForGood()
  expect(persist).toHaveBeenCalledTimes(1)
})

test('a browser that cannot be asked is not', async () => {
  vi.stubGlobal('navigator', {})
  const keepForGood = await fresh()
  expect(keepForGood).not.toThrow()
})
