import type { Air } from '../../../acoustics/index.ts'

// What a question of a lesson's self-check is. Numbers are drawn and solved here; the words stand in widgets/self-check.

/** Numbers of a question. The end of each name is its unit, by which it is written: M, M2, M3, Mps, Hz, Db, Deg, Ms, S, H, Share, Times, Count, Sones. */
export type Values = Readonly<Record<string, number>>

/** What an answer counts. All in SI, but hours; a share is 0 … 1. */
export type AnswerKind =
  | 'length'
  | 'frequency'
  | 'level'
  | 'delay'
  | 'decay'
  | 'angle'
  | 'times'
  | 'sones'
  | 'share'
  | 'hours'

/** What a field takes for an answer; what lies outside is refused and not counted as wrong. */
export const answerRange: Readonly<Record<AnswerKind, { min: number; max: number }>> = {
  length: { min: 0.001, max: 1000 },
  frequency: { min: 1, max: 100_000 },
  level: { min: 0, max: 150 },
  delay: { min: 0, max: 1 },
  decay: { min: 0, max: 60 },
  angle: { min: 0, max: 360 },
  times: { min: 0, max: 10_000 },
  sones: { min: 0, max: 10_000 },
  share: { min: 0, max: 1 },
  hours: { min: 0, max: 1000 },
}

/** How far off an answer may be: a part of the right one, or an amount in the answer's unit. */
export type Tolerance = { part: number } | { amount: number }

/** Where a question takes its numbers. */
export type Draw = {
  /** One of a list. */
  among: <T>(list: readonly T[]) => T
  /** A number on a grid, both ends included. */
  step: (from: number, to: number, step: number) => number
}

/** A question whose numbers are drawn anew each time. */
export type ComputedQuestion<V extends Values = Values, W extends Values = Values> = {
  kind: 'computed'
  /** The heading on the lesson's page under which the way to the answer stands. */
  anchor: string
  answer: AnswerKind
  tolerance: Tolerance
  draw: (draw: Draw) => V
  /** The right answer, from the acoustics module, in the unit of its kind. A method, so that lessons can be kept in one list. */
  solve(values: V, air: Air): number
  /** Further numbers that the worked solution tells. */
  worked(values: V, air: Air): W
}

/** A question with one right choice out of three or four. */
export type JudgementQuestion<C extends string = string> = {
  kind: 'judgement'
  anchor: string
  choices: readonly C[]
  right: C
}

export type CheckQuestion = ComputedQuestion | JudgementQuestion
/** The questions of a lesson by name, in the order in which they are asked. */
export type CheckQuestions = Readonly<Record<string, CheckQuestion>>

/** No further numbers. */
type None = Record<never, number>

/** A computed question; its worked solution may always tell the speed of sound. */
export function computed<V extends Values, W extends Values = None>({
  worked,
  ...question
}: Omit<ComputedQuestion<V>, 'kind' | 'solve' | 'worked'> & {
  solve: (values: NoInfer<V>, air: Air) => number
  worked?: (values: NoInfer<V>, air: Air) => W
}): ComputedQuestion<V, W & { speedMps: number }> {
  return {
    ...question,
    kind: 'computed',
    worked: (values, air) => ({ ...(worked?.(values, air) as W), speedMps: air.speedOfSoundMps }),
  }
}

export const judgement = <const C extends string>(
  question: Omit<JudgementQuestion<C>, 'kind' | 'right'> & { right: NoInfer<C> },
): JudgementQuestion<C> => ({ ...question, kind: 'judgement' })
