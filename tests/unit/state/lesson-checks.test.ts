import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { changeLessonCheck, keptLessonCheck } from '../../../src/state/lesson-checks.ts'
import { hasLessonChecks, lessonChecksKey, onLessonChecksChange } from '../../../src/state/lesson-checks-change.ts'
import { FakeStorage, fakePage } from './fake-page.ts'

// A browser without locks: taking turns has tests of its own.
beforeEach(() => vi.stubGlobal('navigator', {}))
afterEach(() => vi.unstubAllGlobals())

const lesson = 'the-wall-joins-in'
const going = { seed: 5, of: 8, results: [true, false] }
const done = { right: 6, of: 8, on: '2026-11-29' }

describe('what is kept of the lessons’ self-checks', () => {
  test('one lesson’s entry is written and read back, and the others stay', async () => {
    const { storage } = fakePage()
    expect(hasLessonChecks()).toBe(false)
    expect(keptLessonCheck(lesson)).toEqual({ check: {}, problem: '' })
    expect(await changeLessonCheck('other', {}, () => ({ done }))).toEqual({ check: { done }, problem: '' })
    expect(await changeLessonCheck(lesson, {}, (before) => ({ ...before, going }))).toMatchObject({ problem: '' })
    expect(hasLessonChecks()).toBe(true)
    expect(keptLessonCheck(lesson).check).toEqual({ going })
    expect(keptLessonCheck('other').check).toEqual({ done })
    expect(JSON.parse(storage.getItem(lessonChecksKey) ?? '')).toMatchObject({ version: 1 })
  })

  test('a change sees what another tab has written meanwhile', async () => {
    const storage = new FakeStorage()
    fakePage({ storage })
    await changeLessonCheck(lesson, {}, () => ({ going }))
    const { check } = await changeLessonCheck(lesson, {}, (before) => ({ ...before, done }))
    expect(check).toEqual({ going, done })
  })

  test.each([
    ['more right than asked', { done: { ...done, right: 9 } }],
    ['no day', { done: { ...done, on: '2026-13-45' } }],
    ['more answers than questions', { going: { ...going, of: 1 } }],
    ['a seed that is none', { going: { ...going, seed: -1 } }],
    ['no object', 7],
  ])('an entry with %s counts as none', (_, entry) => {
    const { storage } = fakePage()
    storage.setItem(lessonChecksKey, JSON.stringify({ version: 1, lessons: { [lesson]: entry, other: { done } } }))
    expect(keptLessonCheck(lesson)).toEqual({ check: {}, problem: '' })
    expect(keptLessonCheck('other').check).toEqual({ done })
  })

  test('an entry of a newer lesson that this page cannot read stays when another lesson is changed', async () => {
    const { storage } = fakePage()
    storage.setItem(lessonChecksKey, JSON.stringify({ version: 1, lessons: { other: { going: 'later' } } }))
    await changeLessonCheck(lesson, {}, () => ({ done }))
    expect(JSON.parse(storage.getItem(lessonChecksKey) ?? '').lessons.other).toEqual({ going: 'later' })
  })

  test('a text that cannot be read is said, and set aside with the next answer', async () => {
    const { storage } = fakePage()
    storage.setItem(lessonChecksKey, '{ half')
    expect(keptLessonCheck(lesson).problem).toContain('cannot be read')
    expect(await changeLessonCheck(lesson, {}, () => ({ done }))).toEqual({ check: { done }, problem: '' })
    expect(storage.getItem(`${lessonChecksKey}.unread.1`)).toBe('{ half')
    expect(keptLessonCheck(lesson)).toEqual({ check: { done }, problem: '' })
  })

  test('what a newer page wrote stays as it is, and that is said', async () => {
    const { storage } = fakePage()
    const text = JSON.stringify({ version: 2, lessons: {} })
    storage.setItem(lessonChecksKey, text)
    const { check, problem } = await changeLessonCheck(lesson, {}, () => ({ done }))
    expect(check).toEqual({ done })
    expect(problem).toContain('newer page')
    expect(storage.getItem(lessonChecksKey)).toBe(text)
  })

  test('where nothing can be kept the answers hold for the page, and that is said', async () => {
    const { storage } = fakePage()
    storage.refuses = true
    const first = await changeLessonCheck(lesson, {}, () => ({ going }))
    expect(first.problem).toContain('keeps nothing')
    const second = await changeLessonCheck(lesson, first.check, (before) => ({ ...before, done }))
    expect(second.check).toEqual({ going, done })
  })

  test('another tab’s change is told, other keys’ are not', () => {
    const { window } = fakePage()
    const told = vi.fn()
    const end = onLessonChecksChange(told)
    window.dispatchEvent(Object.assign(new Event('storage'), { key: lessonChecksKey }))
    window.dispatchEvent(Object.assign(new Event('storage'), { key: 'other' }))
    expect(told).toHaveBeenCalledTimes(1)
    end()
    window.dispatchEvent(Object.assign(new Event('storage'), { key: lessonChecksKey }))
    expect(told).toHaveBeenCalledTimes(1)
  })
})
