import { readPlan } from './plan-file.ts'
import type { Plan, PlanKnown } from './plan-schema.ts'

// A plan that one page hands over to the page of the plan, in this tab. It is taken once.

const handKey = 'round-the-back.plan-handed'

/** Hands a plan over; false where the browser keeps nothing. */
export function handPlan(plan: Plan): boolean {
  try {
    sessionStorage.setItem(handKey, JSON.stringify(plan))
    return true
  } catch {
    return false
  }
}

/** The plan that was handed over, which is gone then; undefined without one, or if it cannot be read. Never throws. */
export function handedPlan(known: PlanKnown): Plan | undefined {
  try {
    const text = sessionStorage.getItem(handKey)
    sessionStorage.removeItem(handKey)
    const read = text === null ? undefined : readPlan(text, known)
    return typeof read === 'string' ? undefined : read
  } catch {
    return undefined
  }
}
