import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { exportCourse, importCourse } from '../../../src/state/course-file.ts'
import { changeLessonCheck, finalCheckName, keptLessonChecks } from '../../../src/state/lesson-checks.ts'
import { lessonChecksKey } from '../../../src/state/lesson-checks-change.ts'
import { cleanName, keepTrainee, keptTrainee, longestTrainee } from '../../../src/state/trainee.ts'
import { FakeStorage, fakePage } from './fake-page.ts'

// A browser without locks: taking turns has tests of its own.
beforeEach(() => vi.stubGlobal('navigator', {}))
afterEach(() => vi.unstubAllGlobals())

const lesson = 'the-wall-joins-in'
const done = { right: 6, of: 8, on: '2026-11-29' }
const going = { seed: 5, of: 18, results: [true, false] }
const final = { done: { right: 16, of: 18, on: '2026-11-30', passed: true }, going }

/** A device with a name and two checks; gives the text of its file. */
async function filled(): Promise<string> {
  fakePage()
  await keepTrainee('Ada Tide')
  await changeLessonCheck(lesson, {}, () => ({ done }))
  await changeLessonCheck(finalCheckName, {}, () => final)
  return exportCourse()
}
const changed = (text: string, change: (file: Record<string, unknown>) => void): string => {
  const file = JSON.parse(text)
  change(file)
  return JSON.stringify(file)
}

describe('the progress of the course as a file', () => {
  test('out of one device and into an empty one it is the same; taken in once more it brings nothing', async () => {
    const text = await filled()
    const { storage } = fakePage()
    expect(await importCourse(text)).toEqual({ changed: 2, of: 2, problem: '' })
    expect(exportCourse()).toBe(text)
    expect(keptTrainee()).toBe('Ada Tide')
    const kept = storage.getItem(lessonChecksKey)
    expect(await importCourse(text)).toEqual({ changed: 0, of: 2, problem: '' })
    expect(storage.getItem(lessonChecksKey)).toBe(kept)
  })

  test('the better and the later result stay, and lessons that the file does not have', async () => {
    const text = await filled()
    fakePage()
    const [better, later] = [
      { right: 8, of: 8, on: '2026-11-01' },
      { right: 2, of: 8, on: '2026-12-24' },
    ]
    await changeLessonCheck(lesson, {}, () => ({ done: later, best: better }))
    await changeLessonCheck('tall-and-thin', {}, () => ({ done }))
    expect(await importCourse(text)).toEqual({ changed: 1, of: 2, problem: '' })
    const { checks } = keptLessonChecks()
    expect(checks).toEqual({
      [lesson]: { done: later, best: better },
      'tall-and-thin': { done },
      [finalCheckName]: final,
    })
  })

  test('a file of somebody else is refused, and says whose it is; without a name here it brings its own', async () => {
    const text = await filled()
    fakePage()
    await keepTrainee('Grace Ebb')
    const { problem } = await importCourse(text)
    expect(problem).toContain('Ada Tide')
    expect(problem).toContain('Grace Ebb')
    expect(keptLessonChecks().checks).toEqual({})
    const nameless = changed(text, (file) => {
      delete file['name']
    })
    expect(await importCourse(nameless)).toMatchObject({ changed: 2, problem: '' })
    expect(keptTrainee()).toBe('Grace Ebb')
  })

  test.each<[string, string, (text: string) => string]>([
    ['a text', 'no JSON', () => 'half a story'],
    ['a list', 'of another kind', () => '[]'],
    ['null', 'of another kind', () => 'null'],
    ['saved rigs', 'of another kind', () => JSON.stringify({ version: 1, rigs: [] })],
    ['another kind', 'of another kind', (text) => changed(text, (file) => Object.assign(file, { kind: 'rigs' }))],
    ['no version', 'of another kind', (text) => changed(text, (file) => Object.assign(file, { version: 'one' }))],
    ['a newer version', 'newer version', (text) => changed(text, (file) => Object.assign(file, { version: 2 }))],
    ['no lessons', 'damaged', (text) => changed(text, (file) => Object.assign(file, { lessons: 3 }))],
    [
      'more right than asked',
      'damaged',
      (text) =>
        changed(text, (file) => Object.assign(file, { lessons: { [lesson]: { done: { ...done, right: 9 } } } })),
    ],
    [
      'no day',
      'damaged',
      (text) =>
        changed(text, (file) => Object.assign(file, { lessons: { [lesson]: { done: { ...done, on: 'May' } } } })),
    ],
    [
      'a lesson’s name that is none',
      'small letters',
      (text) => changed(text, (file) => Object.assign(file, { lessons: { '<b>': { done } } })),
    ],
    [
      'too many lessons',
      'more lessons than a course',
      (text) =>
        changed(text, (file) =>
          Object.assign(file, {
            lessons: Object.fromEntries(Array.from({ length: 101 }, (_, i) => [`l-${i}`, { done }])),
          }),
        ),
    ],
    ['too much', 'too long', (text) => text + ' '.repeat(200_000)],
  ])('a file with %s is refused in words, and nothing is changed', async (_, said, spoil) => {
    const text = await filled()
    const { storage } = fakePage()
    await changeLessonCheck('tall-and-thin', {}, () => ({ done }))
    const before = new Map(storage.texts)
    const { problem, changed: taken } = await importCourse(spoil(text))
    expect(problem).toContain(said)
    expect(problem).toContain('Nothing was changed')
    expect(taken).toBe(0)
    expect(storage.texts).toEqual(before)
  })

  test('a lesson that this page does not know is kept all the same', async () => {
    const text = changed(await filled(), (file) => Object.assign(file, { lessons: { 'decide-and-set-up': { done } } }))
    fakePage()
    expect(await importCourse(text)).toMatchObject({ changed: 1, problem: '' })
    expect(keptLessonChecks().checks).toEqual({ 'decide-and-set-up': { done } })
  })

  test('a name of the language itself is no lesson, and harms nothing', async () => {
    const text = (await filled()).replace(`"${lesson}"`, '"constructor"')
    fakePage()
    expect(await importCourse(text)).toMatchObject({ changed: 1, of: 1, problem: '' })
    expect(Object.keys(keptLessonChecks().checks)).toEqual([finalCheckName])
    expect(Object.getPrototypeOf({})).toBe(Object.prototype)
  })

  test('where nothing can be kept that is said', async () => {
    const text = await filled()
    const { storage } = fakePage()
    storage.refuses = true
    expect((await importCourse(text)).problem).toContain('keeps nothing')
  })

  test('what a newer page keeps here stays', async () => {
    const text = await filled()
    const { storage } = fakePage()
    const newer = JSON.stringify({ version: 2, lessons: {} })
    storage.setItem(lessonChecksKey, newer)
    expect((await importCourse(text)).problem).toContain('newer page')
    expect(storage.getItem(lessonChecksKey)).toBe(newer)
  })

  test('two tabs that take in different files keep both', async () => {
    const storage = new FakeStorage()
    const text = await filled()
    fakePage({ storage })
    const other = changed(text, (file) => Object.assign(file, { lessons: { 'tall-and-thin': { done } } }))
    await Promise.all([importCourse(text), importCourse(other)])
    expect(Object.keys(keptLessonChecks().checks).sort()).toEqual([finalCheckName, 'tall-and-thin', lesson].sort())
  })
})

describe('the name on the sheet', () => {
  test('is kept without line breaks and blanks at its ends, and no longer than stated', async () => {
    fakePage()
    expect(await keepTrainee('  Ada\n\tTide \u2028')).toBe(true)
    expect(keptTrainee()).toBe('Ada Tide')
    expect([...cleanName('é'.repeat(500))]).toHaveLength(longestTrainee)
    expect([...cleanName('🌊'.repeat(500))]).toHaveLength(longestTrainee)
    expect(cleanName('עדה <b>גאות</b> 🌊')).toBe('עדה <b>גאות</b> 🌊')
  })

  test('that cannot be kept is said', async () => {
    const { storage } = fakePage()
    storage.refuses = true
    expect(await keepTrainee('Ada')).toBe(false)
    expect(keptTrainee()).toBe('')
  })
})
