import { type Air, seededRandom } from '../../../acoustics/index.ts'
import { airOf } from '../../scene/air.ts'
import type { CheckQuestions, ComputedQuestion, Draw, JudgementQuestion, Tolerance, Values } from './check-terms.ts'

/** A question as one reader meets it: numbers drawn, choices in an order of their own. */
export type DrawnQuestion =
  | { kind: 'computed'; id: string; question: ComputedQuestion; values: Values }
  | { kind: 'judgement'; id: string; question: JudgementQuestion; choices: readonly string[] }

/** Numbers from a generator of 0 … 1. Those of a grid are rounded to what a person would write. */
export const drawFrom = (random: () => number): Draw => ({
  among: <T>(list: readonly T[]) => list[Math.floor(random() * list.length)] as T,
  step: (from, to, step) => {
    const count = Math.round((to - from) / step)
    return Number((from + step * Math.floor(random() * (count + 1))).toFixed(6))
  },
})

/** The generators of two questions of one seed lie far apart. */
const apart = 0x9e3779b9

/**
 * The questions of a lesson with the numbers of one seed, in the lesson's order. The same seed gives the same questions.
 *
 * @param seed  whole number; its lowest 32 bits count
 */
export const drawnQuestions = (questions: CheckQuestions, seed: number): DrawnQuestion[] =>
  Object.entries(questions).map(([id, question], place) => {
    const random = seededRandom(seed + Math.imul(apart, place + 1))
    const draw = drawFrom(random)
    return question.kind === 'computed'
      ? { kind: 'computed', id, question, values: question.draw(draw) }
      : { kind: 'judgement', id, question, choices: shuffled(question.choices, random) }
  })

/** A list in another order, by Fisher and Yates. */
export function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const mixed = [...list]
  for (let last = mixed.length - 1; last > 0; last--) {
    const other = Math.floor(random() * (last + 1))
    ;[mixed[last], mixed[other]] = [mixed[other] as T, mixed[last] as T]
  }
  return mixed
}

const [cold, warm] = [airOf({ temperatureC: 0, humidityPct: 50 }), airOf({ temperatureC: 40, humidityPct: 50 })]

/** Whether the answer hangs on the air, by more than a hundredth from a cold night to a hot one. */
export const hangsOnAir = (question: ComputedQuestion, values: Values): boolean =>
  Math.abs(question.solve(values, warm) / question.solve(values, cold) - 1) > 0.01

/** Rounding of double precision and of a field, so that the last number that counts does. */
const grain = 1e-9

/** How far from the right answer a given one may lie, in the answer's unit. */
export const toleranceOf = (tolerance: Tolerance, right: number): number =>
  'part' in tolerance ? Math.abs(right) * tolerance.part : tolerance.amount

/**
 * Whether an answer counts as right.
 *
 * @param given  in the unit of the question's answer; no number is never right
 */
export function isRight(question: ComputedQuestion, values: Values, air: Air, given: number): boolean {
  const right = question.solve(values, air)
  return Math.abs(given - right) <= toleranceOf(question.tolerance, right) + grain
}
