import type { EveningFacts } from '../../engine/questions/plan/plan-facts.ts'
import type { NeighbourQuestion, PlanQuestion } from '../../engine/questions/plan/plan-terms.ts'
import type { Plan } from '../../state/plan-schema.ts'
import { neighbourQuestion, type OfferedBox, planQuestion } from '../plan/plan-question.ts'
import { downDb, eveningIds, eveningPlans, setUpPlans, tableXM, upDb } from './evening-plans.ts'

/** What the facts of lesson 10 are worked out from. */
export function eveningFacts(boxes: readonly OfferedBox[]): EveningFacts {
  const plans = eveningPlans()
  const asked = <K extends string>(some: Record<K, Plan>) =>
    Object.fromEntries(
      (Object.entries(some) as [K, Plan][]).map(([key, plan]) => [key, planQuestion(plan, boxes)]),
    ) as Record<K, PlanQuestion>
  return {
    steps: asked(plans),
    setUps: asked(setUpPlans()),
    neighbours: { first: nextDoor(plans.usual, boxes), last: nextDoor(plans.level, boxes) },
    places: eveningIds,
    done: { tableM: tableXM.usual - tableXM.moved, upDb, downDb },
  }
}

/** What is asked for the cottage. Throws Error for a plan without one. */
export function nextDoor(plan: Plan, boxes: readonly OfferedBox[]): NeighbourQuestion {
  const question = neighbourQuestion(plan, boxes)
  if (!question) throw new Error('The evening of lesson 10 has a neighbour, and this plan has none')
  return question
}
