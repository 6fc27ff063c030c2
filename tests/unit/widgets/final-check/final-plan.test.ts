import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { finalLesson } from '../../../../src/engine/questions/check/final-check.ts'
import { lessonQuestions } from '../../../../src/engine/questions/check/lesson-questions.ts'
import { changeLessonCheck, finalCheckName } from '../../../../src/state/lesson-checks.ts'
import { beginWords } from '../../../../src/widgets/final-check/begin-words.ts'
import { finalPlan } from '../../../../src/widgets/final-check/final-plan.ts'
import { loadQuestions, questionFiles } from '../../../../src/widgets/self-check/load-questions.ts'
import { fakePage } from '../../state/fake-page.ts'

const lessons = Object.keys(questionFiles)
const asked = Object.fromEntries(
  await Promise.all(lessons.map(async (lesson) => [lesson, await loadQuestions(lesson)])),
)
const places = Object.fromEntries(
  lessons.map((lesson, index) => [
    lesson,
    { number: index + 1, title: `Title ${index + 1}`, headings: { see: 'See', do: 'Do' } },
  ]),
)
const plan = finalPlan(asked, places)
const seeds = Array.from({ length: 100 }, (_, seed) => seed)

describe('the final check as the widget takes it', () => {
  test('has the lessons in the order of the course, so that a seed asks the same everywhere', () => {
    expect(lessons).toEqual(Object.keys(lessonQuestions))
    expect(plan.all).toBe(2 * lessons.length)
    expect(plan.name).toBe(finalCheckName)
  })

  test('has words for every question that it draws', () => {
    for (const seed of seeds)
      for (const { id, kind } of plan.drawn(seed)) expect(plan.words[kind][id], id).toBeDefined()
  })

  test('leads from every question to the place in its lesson, in the order of the course', () => {
    for (const shown of plan.drawn(5)) {
      const lesson = finalLesson(shown.id)
      const { href, heading, order } = plan.placeOf(shown)
      expect(href).toBe(`/lessons/${lesson}/#${shown.question.anchor}`)
      expect(heading).toContain(`Lesson ${lessons.indexOf(lesson) + 1}, Title ${lessons.indexOf(lesson) + 1}: `)
      expect(Math.floor((order + 1) / 100)).toBe(lessons.indexOf(lesson) + 1)
    }
  })

  test('says whether answers pass', () => {
    const drawn = plan.drawn(5)
    expect(
      plan.isPassed?.(
        drawn,
        drawn.map(() => true),
      ),
    ).toBe(true)
    expect(
      plan.isPassed?.(
        drawn,
        drawn.map(() => false),
      ),
    ).toBe(false)
  })
})

describe('the button', () => {
  beforeEach(() => {
    vi.stubGlobal('navigator', {})
    fakePage()
  })
  afterEach(() => vi.unstubAllGlobals())
  const keep = (results: boolean[], of = 20) =>
    changeLessonCheck(finalCheckName, {}, () => ({ going: { seed: 1, of, results } }))

  test('begins, goes on where the reader left, or shows the result', async () => {
    expect(beginWords(20)).toBe('begin')
    await keep([true, false])
    expect(beginWords(20)).toBe('go on with question 3 of 20')
    await keep(Array.from({ length: 20 }, () => true))
    expect(beginWords(20)).toBe('see your result')
  })

  test('begins anew when the course has other questions now', async () => {
    await keep([true, false], 16)
    expect(beginWords(20)).toBe('begin')
  })
})
