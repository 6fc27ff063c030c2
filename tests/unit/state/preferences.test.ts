import { readFileSync } from 'node:fs'
import { runInThisContext } from 'node:vm'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { usualAir } from '../../../src/state/site-air.ts'
import { FakeStorage, fakePage } from './fake-page.ts'

const storageKey = 'round-the-back.preferences'
const early = readFileSync(new URL('../../../src/static/early.js', import.meta.url), 'utf8')

/** A page as it is after its first script. */
async function page(options: Parameters<typeof fakePage>[0] = {}) {
  const stub = fakePage(options)
  runInThisContext(early)
  for (const [name, value] of Object.entries(stub.dataset)) stub.dataset[name] = String(value)
  const state = await import('../../../src/state/preferences.ts')
  const kept = () => JSON.parse(stub.storage.getItem(storageKey) ?? '{}')
  return { ...stub, ...state, kept }
}
const keeping = (value: unknown) => {
  const storage = new FakeStorage()
  storage.setItem(storageKey, typeof value === 'string' ? value : JSON.stringify(value))
  return storage
}

beforeEach(() => void vi.resetModules())
afterEach(() => void vi.unstubAllGlobals())

test('without a document metres and the usual air hold', async () => {
  const { preferences } = await import('../../../src/state/preferences.ts')
  expect(preferences()).toEqual({ units: 'm', ...usualAir })
})

describe('what is kept on the device', () => {
  test.each([
    [{}, { units: 'm', ...usualAir }],
    [
      { units: 'ft', theme: 'dark', temperatureC: -10, humidityPct: 0 },
      { units: 'ft', theme: 'dark', temperatureC: -10, humidityPct: 0 },
    ],
    [
      { temperatureC: 45, humidityPct: 100 },
      { units: 'm', temperatureC: 45, humidityPct: 100 },
    ],
    [
      { units: 'yd', theme: 'pink', temperatureC: 46, humidityPct: '50' },
      { units: 'm', ...usualAir },
    ],
    [
      { temperatureC: null, humidityPct: -1 },
      { units: 'm', ...usualAir },
    ],
    ['spoilt', { units: 'm', ...usualAir }],
    ['null', { units: 'm', ...usualAir }],
    ['[1]', { units: 'm', ...usualAir }],
  ])('%j is in force from the first script on, as far as it can be used', async (stored, inForce) => {
    const { preferences } = await page({ storage: keeping(stored) })
    expect(preferences()).toEqual(inForce)
  })

  test('is what the reader set, not what a link asked for meanwhile', async () => {
    const { setPreferences, preferences, kept } = await page()
    setPreferences({ units: 'ft', temperatureC: 5, humidityPct: 90 }, { keep: false })
    setPreferences({ theme: 'dark' })
    expect(preferences()).toEqual({ units: 'ft', theme: 'dark', temperatureC: 5, humidityPct: 90 })
    expect(kept()).toEqual({ theme: 'dark' })
    setPreferences({ humidityPct: 30 })
    expect(kept()).toEqual({ theme: 'dark', humidityPct: 30 })
  })

  test('stays when another choice is made in another tab', async () => {
    const { setPreferences, storage, kept } = await page()
    storage.setItem(storageKey, JSON.stringify({ units: 'ft', later: 'form' }))
    setPreferences({ temperatureC: 12 })
    expect(kept()).toEqual({ units: 'ft', later: 'form', temperatureC: 12 })
  })

  test('an impossible value changes nothing', async () => {
    const { setPreferences, preferences, kept } = await page()
    setPreferences({ temperatureC: Number.NaN, humidityPct: 101 })
    expect(preferences()).toEqual({ units: 'm', ...usualAir })
    expect(kept()).toEqual({})
  })

  test('a device that keeps nothing lets the choice hold for the page', async () => {
    const { setPreferences, preferences, storage } = await page()
    storage.refuses = true
    setPreferences({ units: 'ft' })
    expect(preferences().units).toBe('ft')
  })
})

describe('another tab', () => {
  test('that sets something sets it here, and listeners hear it', async () => {
    const { followOtherTabs, onPreferencesChange, preferences, storage, window } = await page()
    const end = followOtherTabs()
    let heard = 0
    onPreferencesChange(() => heard++)
    storage.setItem(storageKey, JSON.stringify({ units: 'ft', theme: 'dark', temperatureC: 30, humidityPct: 20 }))
    window.dispatchEvent(new Event('storage'))
    expect(preferences()).toEqual({ units: 'ft', theme: 'dark', temperatureC: 30, humidityPct: 20 })
    storage.removeItem(storageKey)
    window.dispatchEvent(new Event('storage'))
    expect(preferences()).toEqual({ units: 'm', ...usualAir })
    expect(heard).toBe(2)
    window.dispatchEvent(new Event('storage'))
    expect(heard).toBe(2)
    end()
    storage.setItem(storageKey, JSON.stringify({ units: 'ft' }))
    window.dispatchEvent(new Event('storage'))
    expect(preferences().units).toBe('m')
  })

  test('does not undo what the link of this page asked for and nobody has changed', async () => {
    const { followOtherTabs, preferences, setPreferences, storage, window } = await page()
    followOtherTabs()
    setPreferences({ units: 'ft', temperatureC: 5 }, { keep: false })
    storage.setItem(storageKey, JSON.stringify({ theme: 'dark' }))
    window.dispatchEvent(new Event('storage'))
    expect(preferences()).toEqual({ ...usualAir, units: 'ft', theme: 'dark', temperatureC: 5 })
  })

  test('is caught up with when the page comes back from the memory of the browser', async () => {
    const { followOtherTabs, preferences, storage, window } = await page()
    followOtherTabs()
    storage.setItem(storageKey, JSON.stringify({ theme: 'dark' }))
    window.dispatchEvent(new Event('pageshow'))
    expect(preferences().theme).toBe('dark')
  })
})

describe('the air of a link', () => {
  test('holds for this page only, and once: a figure that wakes later does not bring it back', async () => {
    const { takeLinkedAir, preferences, setPreferences, kept } = await page({ search: '?air=12,80' })
    expect(takeLinkedAir()).toEqual([])
    expect(preferences()).toMatchObject({ temperatureC: 12, humidityPct: 80 })
    expect(kept()).toEqual({})
    setPreferences({ temperatureC: 25 })
    takeLinkedAir()
    expect(preferences()).toMatchObject({ temperatureC: 25, humidityPct: 80 })
    expect(kept()).toEqual({ temperatureC: 25 })
  })

  test('that cannot be used leaves the reader’s own and is told', async () => {
    const { takeLinkedAir, preferences } = await page({
      search: '?air=90,80',
      storage: keeping({ temperatureC: 3 }),
    })
    expect(takeLinkedAir()[0]).toContain('“90,80”')
    expect(preferences()).toMatchObject({ temperatureC: 3, humidityPct: 50 })
  })
})
