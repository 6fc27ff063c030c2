import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { answerRange, type ComputedQuestion } from '../../../../../src/engine/questions/check/check-terms.ts'
import {
  drawFrom,
  drawnQuestions,
  hangsOnAir,
  isRight,
  toleranceOf,
} from '../../../../../src/engine/questions/check/drawn-check.ts'
import { checkMinutes, lessonQuestions } from '../../../../../src/engine/questions/check/lesson-questions.ts'
import { airOf } from '../../../../../src/engine/scene/air.ts'
import { secondWays } from './second-ways.ts'

const root = join(import.meta.dirname, '../../../../..')
const seeds = Array.from({ length: 1000 }, (_, seed) => seed)
/** The usual air, and the ends of what the site offers. */
const airs = [airOf(), airOf({ temperatureC: -10, humidityPct: 20 }), airOf({ temperatureC: 45, humidityPct: 100 })]

/** Ids of the headings of a lesson's file, as the build makes them. */
function headingIds(lesson: string): string[] {
  const text = readFileSync(join(root, `content/lessons/${lesson}.mdx`), 'utf8')
  return [...text.matchAll(/^#{2,3} (.+)$/gm)].map(([, heading = '']) =>
    heading
      .toLowerCase()
      .replaceAll(/[^\p{L}\p{N}\s-]/gu, '')
      .trim()
      .replaceAll(' ', '-'),
  )
}

describe.each(Object.entries(lessonQuestions))('the self-check of %s', (lesson, questions) => {
  const all = Object.entries(questions)
  const computed = all.flatMap(([id, question]): [string, ComputedQuestion][] =>
    question.kind === 'computed' ? [[id, question]] : [],
  )

  test('has at least eight questions, half of them computed', () => {
    expect(all.length).toBeGreaterThanOrEqual(8)
    expect(2 * computed.length).toBe(all.length)
    expect(checkMinutes(questions)).toBeGreaterThan(1)
  })

  test('points to headings that the lesson has', () => {
    const ids = headingIds(lesson)
    expect(ids).toContain('see')
    for (const [id, { anchor }] of all) expect(ids, id).toContain(anchor)
  })

  test('judgement questions have three or four choices, all different, and one of them right', () => {
    for (const [id, question] of all) {
      if (question.kind !== 'judgement') continue
      expect(question.choices.length, id).toBeGreaterThanOrEqual(3)
      expect(question.choices.length, id).toBeLessThanOrEqual(4)
      expect(new Set(question.choices).size, id).toBe(question.choices.length)
      expect(question.choices.filter((choice) => choice === question.right)).toHaveLength(1)
    }
  })

  test('every computed question has a second way', () => {
    expect(Object.keys(secondWays[lesson] ?? {}).sort()).toEqual(computed.map(([id]) => id).sort())
  })

  test.each(computed)('%s: 1000 draws are in range, and the answer agrees with the second way', (id, question) => {
    const { min, max } = answerRange[question.answer]
    const drawn = new Set<string>()
    /** Some second ways go by small steps: the same numbers are worked out once. */
    const worked = new Map<string, number>()
    for (const seed of seeds) {
      const shown = drawnQuestions(questions, seed).find((one) => one.id === id)
      if (shown?.kind !== 'computed') throw new Error(`${id} is not drawn`)
      const { values } = shown
      drawn.add(JSON.stringify(values))
      for (const value of Object.values(values)) {
        expect(value).toBeGreaterThan(0)
        expect(value).toBeLessThan(20_000)
      }
      for (const air of airs) {
        const right = question.solve(values, air)
        const what = `${JSON.stringify(values)} at ${air.temperatureC} °C`
        expect(Number.isFinite(right), what).toBe(true)
        expect(right, what).toBeGreaterThan(min)
        expect(right, what).toBeLessThan(max)
        const second = worked.get(what) ?? secondWays[lesson]?.[id]?.(values, air.speedOfSoundMps) ?? Number.NaN
        worked.set(what, second)
        expect(Math.abs(right / second - 1), `${what}: ${right}, second way ${second}`).toBeLessThan(0.01)
        for (const value of Object.values(question.worked(values, air))) expect(Number.isFinite(value)).toBe(true)
      }
    }
    expect(drawn.size).toBeGreaterThan(1)
  })

  test.each(computed)('%s: the right answer counts, what lies beyond the tolerance does not', (id, question) => {
    const [air] = airs
    if (!air) throw new Error('no air')
    for (const seed of seeds) {
      const values = question.draw(drawFrom(randomOf(seed)))
      const right = question.solve(values, air)
      const off = toleranceOf(question.tolerance, right)
      const takes = (given: number) => isRight(question, values, air, given)
      const what = `${id} ${JSON.stringify(values)}`
      expect(off, what).toBeGreaterThan(0)
      expect(takes(right), what).toBe(true)
      for (const sign of [-1, 1]) {
        expect(takes(right + 0.99 * sign * off), what).toBe(true)
        expect(takes(right + 1.3 * sign * off), what).toBe(false)
      }
      // A tolerance must not let a slip of a factor through, unless the answer itself is smaller than what a tape can tell.
      expect(takes(2 * right), what).toBe(right <= off)
      expect(takes(Number.NaN), what).toBe(false)
    }
  })
})

/** Numbers of 0 … 1 that reach both ends of each draw. */
function randomOf(seed: number): () => number {
  let state = seed
  return () => {
    state += 1
    return (state * 0.618_033_988_749_895) % 1
  }
}

describe('drawing', () => {
  const questions = lessonQuestions['small-box-long-wave'] ?? {}

  test('the same seed gives the same questions, in the lesson’s order; another one gives others', () => {
    const first = drawnQuestions(questions, 7)
    expect(first.map(({ id }) => id)).toEqual(Object.keys(questions))
    expect(JSON.stringify(drawnQuestions(questions, 7))).toBe(JSON.stringify(first))
    expect(JSON.stringify(drawnQuestions(questions, 8))).not.toBe(JSON.stringify(first))
  })

  test('every choice comes to every place', () => {
    const places = new Map<string, Set<number>>()
    for (const seed of seeds)
      for (const shown of drawnQuestions(questions, seed))
        if (shown.kind === 'judgement')
          for (const [place, choice] of shown.choices.entries()) {
            const name = `${shown.id} ${choice}`
            places.set(name, (places.get(name) ?? new Set()).add(place))
          }
    expect(places.size).toBeGreaterThan(8)
    for (const [name, seen] of places) expect(seen.size, name).toBeGreaterThanOrEqual(3)
  })

  test('what hangs on the air is known: a wave does, a level does not', () => {
    const of = (lesson: string, id: string) => {
      const shown = drawnQuestions(lessonQuestions[lesson] ?? {}, 3).find((one) => one.id === id)
      if (shown?.kind !== 'computed') throw new Error(`${id} is not drawn`)
      return hangsOnAir(shown.question, shown.values)
    }
    expect(of('walk-round-the-back', 'wave')).toBe(true)
    expect(of('walk-round-the-back', 'farther')).toBe(false)
    expect(of('the-hall-fills-the-rest', 'critical')).toBe(false)
    expect(of('the-hall-fills-the-rest', 'rings')).toBe(true)
  })

  test('a grid has both its ends and nothing beyond', () => {
    const ends = drawFrom(() => 0.999_999_999)
    const begins = drawFrom(() => 0)
    expect(ends.step(0.25, 0.9, 0.05)).toBe(0.9)
    expect(begins.step(0.25, 0.9, 0.05)).toBe(0.25)
    expect(ends.among([1, 2, 3])).toBe(3)
  })
})
