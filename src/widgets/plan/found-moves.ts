import { type PlanGain, planGain, worthwhileDb } from '../../engine/questions/plan/plan-gain.ts'
import type { PlanAnswer } from '../../engine/questions/plan/plan-terms.ts'
import type { InAir } from '../../engine/scene/air.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { lengthText } from '../../words/lengths.ts'
import { signedLevelText } from '../../words/levels.ts'
import type { Asking } from '../figure/asked.svelte.ts'
import * as say from './plan.messages.ts'
import { type PlanMove, planMoves } from './plan-moves.ts'
import { type OfferedBox, planQuestion } from './plan-question.ts'

/** A move with what it does. */
export type FoundMove = PlanMove & PlanGain

/** Computes every move that a plan allows, and ranks them by what they gain at the place less what they cost elsewhere. */
export async function foundMoves(
  { askEach, progress }: Pick<Asking<FoundMove[]>, 'askEach' | 'progress'>,
  { plan, placeId, air }: InAir & { plan: Plan; placeId: string },
  boxes: readonly OfferedBox[],
  known: PlanKnown,
): Promise<FoundMove[] | undefined> {
  const moves = planMoves(plan, boxes, known, placeId, air)
  const questions = [plan, ...moves.map((move) => move.plan)].map((each) => ({
    ...planQuestion(each, boxes),
    ...(air && { air }),
  }))
  const answers: (PlanAnswer | undefined)[] = []
  let done = 0
  progress(0, moves.length)
  const isWhole = await askEach('planAnswer', questions, (answer, index) => {
    answers[index] = answer
    done += 1
    progress(Math.min(done, moves.length), moves.length)
  })
  const before = answers[0]
  if (!isWhole || !before) return undefined
  return moves
    .map((move, index) => ({
      ...move,
      ...planGain(before, answers[index + 1] as PlanAnswer, placeId, plan.mainPlace),
    }))
    .sort((a, b) => b.scoreDb - a.scoreDb)
}

/** Of each kind of move the best alone, and whether each is worth its trouble. */
export const bestOfEach = (moves: readonly FoundMove[]): (FoundMove & { isWorthwhile: boolean })[] =>
  moves
    .filter((move, index) => moves.findIndex(({ kind }) => kind === move.kind) === index)
    .map((move) => ({ ...move, isWorthwhile: move.scoreDb >= worthwhileDb }))

/** What is to be moved, in words. */
export const moveWords = ({ kind, amount }: PlanMove, { ground }: Plan, units: LengthUnit): string =>
  say.move({
    kind,
    length: lengthText(Math.abs(amount), units),
    back: amount < 0,
    hall: ground.kind === 'hall',
    decibels: Math.abs(amount),
  })

/** What it gains, and what it does elsewhere. */
export function gainWords(move: FoundMove, plan: Plan, placeId: string): string {
  const nameOf = (id: string) => plan.places.find((place) => place.id === id)?.name ?? ''
  const elsewhere = move.elsewhere.map(({ id, bassDb, trebleDb }) =>
    say.cost({ place: nameOf(id), bass: signedLevelText(bassDb), treble: signedLevelText(trebleDb) }),
  )
  const gain = say.gain({ place: nameOf(placeId), bass: signedLevelText(-move.gainDb) })
  return elsewhere.length === 0 ? gain : `${gain} ${elsewhere.join('; ')}.`
}
