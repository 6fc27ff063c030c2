import { type BlindStage, blindStages } from '../../engine/questions/blind/blind-terms.ts'
import type { AuditionSignal } from '../../sound/audition-types.ts'
import * as say from './blind-comparison.messages.ts'

/** The two sounds of a trial, as the reader knows them. */
export const letters = ['A', 'B'] as const
export type Letter = (typeof letters)[number]

/** One go at a stage. */
export type Go = {
  stage: BlindStage
  signal: AuditionSignal
  /** Which letter is behind, trial by trial. Drawn before the first trial, each without regard to the others. */
  behind: readonly Letter[]
  /** What the reader said is behind, as far as answered. */
  said: readonly Letter[]
  /** Whether the reader broke it off. */
  brokenOff: boolean
}

/** Everything that was done since the page opened or the reader started again, in order. */
export type Sitting = readonly Go[]

/**
 * Draws what is behind in each trial of a go.
 *
 * @param trials  how many
 * @param random  numbers from 0 (included) to 1 (excluded)
 */
export const drawBehind = (trials: number, random: () => number): Letter[] =>
  Array.from({ length: trials }, () => (random() < 0.5 ? 'A' : 'B'))

/** A seed that nobody can foresee. */
export const chanceSeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0] as number

/** Whether every trial of a go is answered. Only then is it judged: who may stop at will can stop when luck is good. */
export const isComplete = ({ behind, said }: Go): boolean => said.length === behind.length

/** Whether a go waits for answers. */
export const isUnderWay = (go: Go): boolean => !go.brokenOff && !isComplete(go)

/** How many answers of a go are right so far. */
export const rightCount = ({ behind, said }: Go): number =>
  said.filter((letter, trial) => letter === behind[trial]).length

/** What counts of each stage: the newest complete go, and how many goes there have been. */
export type StageResult = { right: number; trials: number; goes: number }

/** The results of the complete stages. One that was broken off counts as a go, once a trial of it was answered. */
export function stageResults(sitting: Sitting): Partial<Record<BlindStage, StageResult>> {
  const results: Partial<Record<BlindStage, StageResult>> = {}
  for (const stage of blindStages) {
    const goes = sitting.filter((go) => go.stage === stage && go.said.length > 0)
    const last = goes.findLast(isComplete)
    if (last) results[stage] = { right: rightCount(last), trials: last.behind.length, goes: goes.length }
  }
  return results
}

/** The table: one row a trial, newest go of each stage; what was behind stays hidden until it may be told. */
export function trialRows(sitting: Sitting, told: boolean, names: Record<BlindStage, string>): (string | number)[][] {
  return blindStages.flatMap((stage) => {
    const go = sitting.findLast((one) => one.stage === stage && one.said.length > 0)
    if (!go) return []
    const open = told || isComplete(go)
    return go.said.map((said, trial) => {
      const behind = go.behind[trial] as Letter
      const verdict = said === behind ? say.right() : say.wrong()
      return [names[stage], trial + 1, said, open ? behind : '?', open ? verdict : '?']
    })
  })
}
