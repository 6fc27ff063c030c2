import type { Plan } from './plan-schema.ts'

/** A plan with the ways back and forth. Plans share what they have in common, so that there is no need of a limit. */
export type PlanHistory = {
  readonly now: Plan
  readonly before: readonly Plan[]
  readonly after: readonly Plan[]
  /** What the last change was of: changes of one thing that go on, as in a drag, are one step back. */
  readonly of: string
}

export const beginHistory = (now: Plan): PlanHistory => ({ now, before: [], after: [], of: '' })

/**
 * Takes the next plan.
 *
 * @param of  what is being changed, 'drag c3' for instance; a further change of the same replaces the last one. '' is always a step of its own
 */
export function take(history: PlanHistory, next: Plan, of = ''): PlanHistory {
  if (next === history.now) return history
  const goesOn = of !== '' && of === history.of && history.before.length > 0
  return { now: next, before: goesOn ? history.before : [...history.before, history.now], after: [], of }
}

/** What comes is a step of its own again: a hand was lifted. */
export const rest = (history: PlanHistory): PlanHistory => (history.of === '' ? history : { ...history, of: '' })

/** One step back; the same where there is none. */
export function undo({ now, before, after, of }: PlanHistory): PlanHistory {
  const last = before.at(-1)
  if (!last) return { now, before, after, of }
  return { now: last, before: before.slice(0, -1), after: [now, ...after], of: '' }
}

/** One step forth; the same where there is none. */
export function redo({ now, before, after, of }: PlanHistory): PlanHistory {
  const [next, ...later] = after
  if (!next) return { now, before, after, of }
  return { now: next, before: [...before, now], after: later, of: '' }
}
