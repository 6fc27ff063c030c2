import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { handedPlan, handPlan } from '../../../src/state/plan-hand-over.ts'
import { FakeStorage } from './fake-page.ts'
import { known, smallPlan } from './plan-samples.ts'

const storage = new FakeStorage()
beforeEach(() => {
  storage.refuses = false
  storage.texts.clear()
  vi.stubGlobal('sessionStorage', storage)
})
afterEach(() => vi.unstubAllGlobals())

test('a plan that is handed over comes once, as it was', () => {
  expect(handPlan(smallPlan)).toBe(true)
  expect(handedPlan(known)).toEqual(smallPlan)
  expect(handedPlan(known)).toBeUndefined()
})

test('where nothing is kept it says so; what cannot be read is left, and gone', () => {
  storage.refuses = true
  expect(handPlan(smallPlan)).toBe(false)
  storage.refuses = false
  handPlan({ ...smallPlan, mainPlace: 'p9' })
  expect(handedPlan(known)).toBeUndefined()
  expect(storage.texts.size).toBe(0)
  vi.stubGlobal('sessionStorage', undefined)
  expect(handPlan(smallPlan)).toBe(false)
  expect(handedPlan(known)).toBeUndefined()
})
