import { handPlan } from '../../state/plan-hand-over.ts'
import type { Plan } from '../../state/plan-schema.ts'

/** Goes to the page of the plan with this one; returns whether it can. */
export function openPlan(plan: Plan): boolean {
  const isHanded = handPlan(plan)
  if (isHanded) location.assign('/plan/')
  return isHanded
}
