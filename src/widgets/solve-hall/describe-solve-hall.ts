import { type LessonHallKey, lessonHall } from '../../engine/questions/plan/lesson-halls.ts'
import { farthestMissed, type GoalResult, type PlanGoal } from '../../engine/questions/plan/plan-goals.ts'
import { hintStepM, type PlanHint } from '../../engine/questions/plan/plan-hint.ts'
import type { NeighbourAnswer } from '../../engine/questions/plan/plan-terms.ts'
import { cabinetNumber } from '../../state/plan-faults.ts'
import type { Plan } from '../../state/plan-schema.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { lengthText } from '../../words/lengths.ts'
import { levelText, signedLevelText } from '../../words/levels.ts'
import { shortText } from '../../words/numbers.ts'
import { hallName } from './lesson-plans.ts'
import * as say from './solve-hall.messages.ts'
import type { SolveAnswer } from './solve-hall.svelte.ts'

// What a hall to solve is told in: what is wanted, what there is, and what to look at next.

const placeName = (plan: Plan, id: string): string => plan.places.find((place) => place.id === id)?.name ?? ''

/** What is wanted. */
export function goalWords(goal: PlanGoal, plan: Plan): string {
  const limit = levelText(goal.limitDb)
  if (goal.kind === 'neighbourAtMost')
    return say.wantNeighbour({ name: plan.neighbour?.name ?? '', limit: Math.round(goal.limitDb) })
  const place = placeName(plan, goal.place)
  const main = placeName(plan, plan.mainPlace)
  switch (goal.kind) {
    case 'bassUnder':
      return say.wantUnder({ place, main, limit })
    case 'bassWithin':
      return say.wantWithin({ place, main, limit })
    case 'bassAtLeast':
      return say.wantAtLeast({ place, limit })
    case 'levelAtMost':
      return say.wantAtMost({ place, limit: Math.round(goal.limitDb) })
  }
}

/** A level as a goal tells it: to a whole decibel, and where that would hide whether it is met, to a tenth. */
const toldDb = ({ goal, valueDb, isMet }: GoalResult): number => {
  const isLeast = goal.kind === 'bassUnder' || goal.kind === 'bassAtLeast'
  const seems = isLeast ? Math.round(valueDb) >= goal.limitDb : Math.abs(Math.round(valueDb)) <= goal.limitDb
  return seems === isMet ? Math.round(valueDb) : Math.round(10 * valueDb) / 10
}

/** What there is. */
export function valueWords(result: GoalResult): string {
  const told = toldDb(result)
  switch (result.goal.kind) {
    case 'bassUnder':
      return say.isUnder({ amount: shortText(Math.abs(told), 1), over: told < 0 })
    case 'bassWithin':
      return say.isWithin({ difference: signedLevelText(told, 1) })
    case 'bassAtLeast':
      return say.isBass({ level: shortText(told, 1) })
    default:
      return say.isC({ level: shortText(told, 1) })
  }
}

/** How much is missing: whole decibels, tenths where it is less than one. */
export const missingText = ({ missingDb }: GoalResult): string =>
  missingDb < 1 ? `${shortText(Math.max(0.1, missingDb), 1)} dB` : levelText(missingDb)

/** How many of the goals are met, in a hall. */
export function solveTitle(hall: LessonHallKey, results: readonly GoalResult[]): string {
  const met = results.filter(({ isMet }) => isMet).length
  return met === results.length
    ? say.allMet({ hall: hallName(hall), all: results.length })
    : say.someMet({ hall: hallName(hall), met, all: results.length })
}

/** A place is worth moving from here on, and boxes count as adding or cancelling, dB. */
const worthDb = 2
const cancelDb = -1.5

/** The one thing to look at next; '' when all is met or nothing is known yet. */
export function hintWords(
  hall: LessonHallKey,
  plan: Plan,
  results: readonly GoalResult[],
  { hint, neighbour }: SolveAnswer,
  units: LengthUnit,
): string {
  const missed = farthestMissed(results)
  if (!missed) return say.nothingLeft()
  const missing = missingText(missed)
  if (missed.goal.kind === 'neighbourAtMost') return neighbour ? neighbourHint(neighbour, missing) : ''
  if (!hint) return ''
  const { goal } = missed
  const place = placeName(plan, goal.place)
  const tooLittle = goal.kind === 'bassAtLeast' || (goal.kind === 'bassWithin' && missed.valueDb < 0)
  if (tooLittle) {
    if (hint.inStepDb <= cancelDb) return say.hintCancel({ place, amount: levelText(-hint.inStepDb) })
    return goal.kind === 'bassAtLeast' ? say.hintMore({ place, missing }) : say.hintFar({ place, missing })
  }
  const least = hint.least
  if (goal.kind === 'bassUnder' && least && least.byDb <= -worthDb && lessonHall(hall).movable.includes(goal.place)) {
    const from = plan.places.find(({ id }) => id === goal.place)
    const aside = least.xM - (from?.xM ?? 0)
    const ahead = least.zM - (from?.zM ?? 0)
    return say.hintPlace({
      place,
      length: lengthText(hintStepM, units),
      way: aside > 0.1 ? 'right' : aside < -0.1 ? 'left' : ahead > 0 ? 'ahead' : 'back',
      less: levelText(-least.byDb),
    })
  }
  return boxHint(plan, hint, place)
}

/** Which box brings most of it, and whether they add in step. */
function boxHint(plan: Plan, { boxes, inStepDb }: PlanHint, place: string): string {
  const [first, second] = boxes
  if (!first) return ''
  const number = cabinetNumber(plan, first.id)
  if (second && first.aloneDb - second.aloneDb < worthDb)
    return say.hintBoth({
      place,
      first: Math.min(number, cabinetNumber(plan, second.id)),
      second: Math.max(number, cabinetNumber(plan, second.id)),
      inStep: inStepDb >= worthDb,
      amount: levelText(inStepDb),
    })
  return say.hintBox({ place, number })
}

function neighbourHint({ ways }: NeighbourAnswer, missing: string): string {
  const { wall, roof, door } = ways
  const way = door !== null && door > Math.max(wall, roof) ? 'door' : roof > wall ? 'roof' : 'wall'
  return say.hintNeighbour({ way, missing })
}
