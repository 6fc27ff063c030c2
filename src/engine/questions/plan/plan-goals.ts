import type { NeighbourAnswer, PlaceAnswer, PlanAnswer } from './plan-terms.ts'

// What somebody wants of a plan, and whether it gives that.

/**
 * One thing that is wanted, with its limit in dB:
 *
 *   bassUnder        bass at the place at least so much under the main place's
 *   bassWithin       bass at the place no more than so much over or under the main place's
 *   bassAtLeast      bass at the place, dB re 20 µPa
 *   levelAtMost      C-weighted level at the place
 *   neighbourAtMost  C-weighted level at the neighbour, through the hall's walls
 */
export type PlanGoal = { id: string; limitDb: number } & (
  | { kind: 'bassUnder' | 'bassWithin' | 'bassAtLeast' | 'levelAtMost'; place: string }
  | { kind: 'neighbourAtMost' }
)

/** How a plan does by a goal: what it gives, dB as the goal counts it, and how much is missing, 0 or less where it is met. */
export type GoalResult = { goal: PlanGoal; valueDb: number; missingDb: number; isMet: boolean }

/** Less than this is not told apart, dB: what is told is rounded to whole decibels. */
const slackDb = 0.05

/**
 * How a plan does by its goals, in their order.
 *
 * @param neighbour  needed for a goal of that kind
 * @throws RangeError for a place that the answer does not have, or a neighbour that is missing
 */
export function goalResults(
  goals: readonly PlanGoal[],
  answer: PlanAnswer,
  neighbour: NeighbourAnswer | undefined,
): GoalResult[] {
  return goals.map((goal) => {
    const valueDb = valueDbOf(goal, answer, neighbour)
    const isFloor = goal.kind === 'bassUnder' || goal.kind === 'bassAtLeast'
    const missingDb = isFloor ? goal.limitDb - valueDb : Math.abs(valueDb) - goal.limitDb
    return { goal, valueDb, missingDb, isMet: missingDb <= slackDb }
  })
}

function valueDbOf(goal: PlanGoal, answer: PlanAnswer, neighbour: NeighbourAnswer | undefined): number {
  if (goal.kind === 'neighbourAtMost') {
    if (!neighbour) throw new RangeError('neighbour is missing; allowed is the answer for the plan’s neighbour')
    return neighbour.cWeightedDb
  }
  const place = answerAt(answer, goal.place)
  if (goal.kind === 'levelAtMost') return place.cWeightedDb
  if (goal.kind === 'bassAtLeast') return place.bassDb
  return goal.kind === 'bassUnder' ? -place.reMain.bassDb : place.reMain.bassDb
}

function answerAt({ places }: PlanAnswer, id: string): PlaceAnswer {
  const place = places.find((each) => each.id === id)
  if (!place) throw new RangeError(`place is ${id}; allowed is one of ${places.map((each) => each.id).join(', ')}`)
  return place
}

/** The goal that is missed by the most; undefined when all are met. */
export const farthestMissed = (results: readonly GoalResult[]): GoalResult | undefined =>
  results.filter(({ isMet }) => !isMet).toSorted((a, b) => b.missingDb - a.missingDb)[0]
