import { globSync } from 'node:fs'
import { basename } from 'node:path'
import { describe, expect, test } from 'vitest'
import { lessonQuestions } from '../../../../src/engine/questions/check/lesson-questions.ts'
import { observed, observedSafety } from '../../../../src/widgets/sign-off/observed.ts'
import { sheetResult } from '../../../../src/widgets/sign-off/sheet-result.ts'

describe('a line of the sheet', () => {
  const [six, eight] = [
    { right: 6, of: 8, on: '2026-11-29' },
    { right: 8, of: 8, on: '2026-11-01' },
  ]

  test('is empty until a check has come to its end', () => {
    expect(sheetResult(undefined)).toBeUndefined()
    expect(sheetResult({ going: { seed: 1, of: 8, results: [true] } })).toBeUndefined()
  })

  test('tells the best result with its day and year, and the last one where that was another', () => {
    expect(sheetResult({ done: six })).toEqual({ result: '6 of 8', day: '29 Nov 2026', last: '' })
    expect(sheetResult({ done: six, best: eight })).toEqual({
      result: '8 of 8',
      day: '1 Nov 2026',
      last: 'last 6 of 8, 29 Nov 2026',
    })
  })

  test('says of the final check whether it is passed', () => {
    expect(sheetResult({ done: { right: 16, of: 18, on: '2026-11-29', passed: true } })?.result).toBe(
      'passed, 16 of 18',
    )
    expect(sheetResult({ done: { right: 16, of: 18, on: '2026-11-29', passed: false } })?.result).toBe(
      'not passed, 16 of 18',
    )
  })
})

test('every lesson with a check has something to be seen in the hall, and nothing else has', () => {
  expect([...new Set(observed.map(({ lesson }) => lesson))]).toEqual(Object.keys(lessonQuestions))
  const lessons = globSync('content/lessons/*.mdx').map((file) => basename(file, '.mdx'))
  for (const { lesson } of observed) expect(lessons).toContain(lesson)
})

test('hearing, lifting, ways of escape and licensed people are on the sheet', () => {
  const all = observedSafety.map((words) => words()).join(' ')
  for (const word of ['hearing protection', 'two people', 'exits', 'licensed people']) expect(all).toContain(word)
})
