import { describe, expect, test } from 'vitest'
import { answerRange } from '../../../../src/engine/questions/check/check-terms.ts'
import { drawnQuestions, isRight } from '../../../../src/engine/questions/check/drawn-check.ts'
import { lessonQuestions } from '../../../../src/engine/questions/check/lesson-questions.ts'
import { airOf } from '../../../../src/engine/scene/air.ts'
import { answerMeasure } from '../../../../src/widgets/self-check/answer-measures.ts'
import { checkedText } from '../../../../src/widgets/self-check/checked-lines.ts'
import { loadQuestions, questionFiles } from '../../../../src/widgets/self-check/load-questions.ts'
import { answerText, textsOf, toleranceText, workedTexts } from '../../../../src/widgets/self-check/value-words.ts'
import { dayText } from '../../../../src/words/day-text.ts'
import { typedProblem } from '../../../../src/words/measures.ts'

const air = airOf()
const seeds = Array.from({ length: 200 }, (_, seed) => seed)
const bothUnits = ['m', 'ft'] as const
/** What no sentence may have in it. */
const broken = /NaN|undefined|Infinity|[{}]/

test('every lesson with questions has their words, and no other', () => {
  expect(Object.keys(questionFiles).sort()).toEqual(Object.keys(lessonQuestions).sort())
})

test('a lesson without questions is refused by name', async () => {
  await expect(loadQuestions('more-boxes')).rejects.toThrow('lesson is more-boxes')
})

describe.each(Object.keys(lessonQuestions))('the words of %s', (lesson) => {
  test('ask and explain every question with its numbers filled in, in metres and in feet', async () => {
    const asked = await loadQuestions(lesson)
    expect(asked.questions).toBe(lessonQuestions[lesson])
    for (const seed of seeds)
      for (const shown of drawnQuestions(asked.questions, seed)) {
        if (shown.kind === 'judgement') continue
        const words = asked.computed[shown.id]
        if (!words) throw new Error(`${shown.id} has no words`)
        for (const units of bothUnits) {
          const ask = words.ask(textsOf(shown.values, units))
          const texts = workedTexts(shown.question, shown.values, air, units)
          const worked = words.worked(texts)
          expect(ask).not.toMatch(broken)
          expect(ask).toMatch(/\?$/)
          expect(worked).not.toMatch(broken)
          expect(worked).toContain(texts.answer)
        }
      }
  })

  test('give each choice words of its own and a reason of its own', async () => {
    const asked = await loadQuestions(lesson)
    for (const [id, question] of Object.entries(asked.questions)) {
      if (question.kind !== 'judgement') continue
      const words = asked.judgement[id]
      expect(words?.ask(), id).toMatch(/[?…]$/)
      expect(Object.keys(words?.choices ?? {}).sort()).toEqual([...question.choices].sort())
      const all = question.choices.flatMap((choice) => words?.choices[choice]?.map((say) => say()) ?? [])
      expect(all).toHaveLength(2 * question.choices.length)
      expect(new Set(all).size, id).toBe(all.length)
      for (const text of all) expect(text).toMatch(/\S.*[.?]$/)
    }
  })

  test('the right answer, as the page writes it, can be typed and counts, in metres and in feet', async () => {
    const asked = await loadQuestions(lesson)
    for (const seed of seeds)
      for (const shown of drawnQuestions(asked.questions, seed)) {
        if (shown.kind === 'judgement') continue
        const { question, values } = shown
        const right = question.solve(values, air)
        for (const units of bothUnits) {
          const measure = answerMeasure(question.answer, units)
          for (const text of [measure.write(right), answerText(question.answer, right, units)]) {
            const given = measure.read(text)
            const what = `${shown.id} ${JSON.stringify(values)}: “${text}” for ${right}`
            expect(typedProblem(given, measure, answerRange[question.answer]), what).toBeUndefined()
            expect(isRight(question, values, air, given), what).toBe(true)
          }
          const wrong = measure.read(
            measure.write(1.3 * right + ('amount' in question.tolerance ? question.tolerance.amount : 0)),
          )
          expect(isRight(question, values, air, wrong), `${shown.id} 1.3 × ${right}`).toBe(false)
        }
      }
  })
})

describe('answers as they are typed', () => {
  test.each([
    ['length', 'm', '0,45', 0.45],
    ['length', 'm', '53 in', 1.3462],
    ['length', 'ft', '1\'6"', 0.4572],
    ['length', 'ft', '2', 0.6096],
    ['frequency', 'm', '1.2 k', 1200],
    ['level', 'm', '6 dB', 6],
    ['delay', 'm', '3.9', 0.0039],
    ['decay', 'm', '1,2 s', 1.2],
    ['share', 'm', '25 %', 0.25],
    ['share', 'ft', '25', 0.25],
    ['times', 'm', '2.5 times', 2.5],
    ['times', 'm', '1/2', 0.5],
    ['sones', 'm', '4 sones', 4],
    ['hours', 'm', '45 min', 0.75],
    ['hours', 'm', '2 hours', 2],
    ['angle', 'm', '30°', 30],
  ] as const)('%s in %s: “%s”', (kind, units, text, expected) => {
    expect(answerMeasure(kind, units).read(text)).toBeCloseTo(expected, 6)
  })

  test('what is no number, and what is out of range, is refused with what is allowed', () => {
    for (const kind of Object.keys(answerRange) as (keyof typeof answerRange)[]) {
      const measure = answerMeasure(kind, 'm')
      expect(typedProblem(measure.read('a few'), measure, answerRange[kind])).toContain('Allowed: ')
      expect(typedProblem(answerRange[kind].max * 1.5, measure, answerRange[kind])).toContain('Too large')
    }
  })
})

test('a tolerance is told in the answer’s unit', () => {
  expect(toleranceText('length', { part: 0.05 }, 'm')).toBe('5\u00a0%')
  expect(toleranceText('level', { amount: 0.5 }, 'ft')).toBe('0.5\u00a0dB')
})

test('a length of time in a question is told in seconds, whatever the unit of length', () => {
  for (const units of bothUnits) expect(textsOf({ talkS: 4 }, units)).toEqual({ talkS: '4\u00a0s' })
})

test('a number whose name has no unit is a mistake that is told by name', () => {
  expect(() => textsOf({ width: 1 }, 'm')).toThrow('width has no unit')
})

describe('the line in the course’s list', () => {
  const now = new Date(2026, 10, 30)

  test('tells the last check that came to its end, else how far the first one has come, else nothing', () => {
    const done = { right: 6, of: 8, on: '2026-11-29' }
    const going = { seed: 1, of: 8, results: [true, false] }
    expect(checkedText({ done, going }, now)).toBe('checked 6 of 8 on 29 November')
    expect(checkedText({ going }, now)).toBe('2 of 8 answered so far')
    expect(checkedText({ going: { ...going, results: [] } }, now)).toBe('')
    expect(checkedText({}, now)).toBe('')
  })

  test('a day of another year is told with it', () => {
    expect(dayText('2025-12-31', now)).toBe('31 December 2025')
  })
})
