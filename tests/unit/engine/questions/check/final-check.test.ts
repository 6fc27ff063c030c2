import { describe, expect, test } from 'vitest'
import { drawnQuestions } from '../../../../../src/engine/questions/check/drawn-check.ts'
import {
  finalId,
  finalLesson,
  finalPassMark,
  finalPerLesson,
  finalQuestions,
  finalVerdict,
} from '../../../../../src/engine/questions/check/final-check.ts'
import { finalMinutes, lessonQuestions } from '../../../../../src/engine/questions/check/lesson-questions.ts'
import { secondWays } from './second-ways.ts'

const lessons = Object.keys(lessonQuestions)
const all = finalPerLesson * lessons.length
const seeds = Array.from({ length: 1000 }, (_, seed) => seed)
const checks = seeds.map((seed) => finalQuestions(lessonQuestions, seed))

describe('the final check', () => {
  test('asks of every lesson one question to be worked out and one to be judged, none twice', () => {
    for (const drawn of checks) {
      expect(drawn).toHaveLength(all)
      expect(new Set(drawn.map(({ id }) => id)).size).toBe(all)
      for (const lesson of lessons) {
        const own = drawn.filter(({ id }) => finalLesson(id) === lesson)
        expect(own.map(({ kind }) => kind).sort(), lesson).toEqual(['computed', 'judgement'])
      }
    }
  })

  test('1000 of them take their questions and their numbers from the lessons’ own pools', () => {
    for (const drawn of checks)
      for (const shown of drawn) {
        const lesson = finalLesson(shown.id)
        const id = shown.id.slice(lesson.length + 1)
        expect(lessonQuestions[lesson]?.[id]).toBe(shown.question)
        // What the tests of the lessons say of 1000 draws holds for every one whose numbers the lesson may draw.
        if (shown.kind === 'computed') {
          expect(secondWays[lesson]?.[id], shown.id).toBeDefined()
          for (const value of Object.values(shown.values)) expect(value > 0 && value < 20_000).toBe(true)
        } else expect([...shown.choices].sort()).toEqual([...shown.question.choices].sort())
      }
  })

  test('its numbers are those that the lesson’s own check has for some seed', () => {
    const [lesson = ''] = lessons
    const known = new Set(
      Array.from({ length: 20_000 }, (_, seed) => drawnQuestions(lessonQuestions[lesson] ?? {}, seed)).flatMap(
        (drawn) =>
          drawn.flatMap((shown) =>
            shown.kind === 'computed' ? [finalId(lesson, JSON.stringify([shown.id, shown.values]))] : [],
          ),
      ),
    )
    for (const drawn of checks.slice(0, 200))
      for (const shown of drawn) {
        if (shown.kind !== 'computed' || finalLesson(shown.id) !== lesson) continue
        expect(known).toContain(finalId(lesson, JSON.stringify([shown.id.slice(lesson.length + 1), shown.values])))
      }
  })

  test('every question of every lesson comes up, but one that an earlier lesson asks as well', () => {
    const seen = new Set(checks.flat().map(({ id }) => id))
    const whole = lessons.flatMap((lesson) =>
      Object.keys(lessonQuestions[lesson] ?? {}).map((id) => finalId(lesson, id)),
    )
    expect(whole.filter((id) => !seen.has(id))).toEqual(['small-box-long-wave/trap'])
  })

  test('comes in an order of its own, which a seed repeats', () => {
    expect(finalQuestions(lessonQuestions, 7)).toEqual(finalQuestions(lessonQuestions, 7))
    const firsts = new Set(checks.slice(0, 200).map(([first]) => finalLesson(first?.id ?? '')))
    expect([...firsts].sort()).toEqual([...lessons].sort())
  })

  test('a lesson without both kinds of question is refused by name', () => {
    expect(() =>
      finalQuestions({ half: { rear: lessonQuestions['walk-round-the-back']?.['rear'] as never } }, 1),
    ).toThrow('half has no question of the kind computed')
  })

  test('takes as long as its parts', () => {
    expect(Math.abs(finalMinutes - lessons.length * 1.5)).toBeLessThanOrEqual(0.5)
  })
})

describe('what counts as passed', () => {
  const drawn = checks[3] ?? []
  /** All right but the questions of these places. */
  const wrong = (...places: number[]) => drawn.map((_, place) => !places.includes(place))
  /** Places of the questions of as many lessons, one of each. */
  const oneOfEach = (count: number) =>
    lessons.slice(0, count).map((lesson) => drawn.findIndex(({ id }) => finalLesson(id) === lesson))

  test('is five of six, and more than choosing well can give', () => {
    expect(finalPassMark(20)).toBe(17)
    for (const count of [1, 5, 9, 12]) expect(finalPassMark(finalPerLesson * count)).toBeGreaterThan(count)
    expect(finalPassMark(all)).toBeLessThan(all)
  })

  test('is the mark and no answer less', () => {
    const most = all - finalPassMark(all)
    expect(finalVerdict(drawn, wrong())).toEqual({ right: all, of: all, passed: true, empty: [] })
    expect(finalVerdict(drawn, wrong(...oneOfEach(most)))).toMatchObject({ right: finalPassMark(all), passed: true })
    expect(finalVerdict(drawn, wrong(...oneOfEach(most + 1)))).toMatchObject({ passed: false, empty: [] })
  })

  test('is not a check with a lesson in which nothing was right, and that lesson is named', () => {
    const [lesson = ''] = lessons
    const both = drawn.flatMap(({ id }, place) => (finalLesson(id) === lesson ? [place] : []))
    expect(finalVerdict(drawn, wrong(...both))).toEqual({ right: all - 2, of: all, passed: false, empty: [lesson] })
  })

  test('is not a check that has not come to its end', () => {
    expect(finalVerdict(drawn, []).passed).toBe(false)
    expect(finalVerdict(drawn, wrong().slice(0, finalPassMark(all) - 1)).passed).toBe(false)
  })
})
