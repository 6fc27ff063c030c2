import { makeRoom } from '../../../acoustics/make-room.ts'
import { solvedRevision } from '../../scene/solved-gear.ts'
import { type SteerAsBody, steerAnswer } from './steer.ts'
import { bodyObstacle } from './steer-bodies.ts'
import { withErrorWall } from './steer-boxes.ts'
import { isMirrored, type SteerAnswer, type SteerQuestion } from './steer-terms.ts'
import { steerTogetherPlan, steerTogetherStep } from './steer-together.ts'
import type { SteerTogetherSolved } from './together-lines.ts'

// A set solved as one body in one go, for numbers that a page is built with; a figure asks step by step.

const kept = new Map<string, SteerTogetherSolved[]>()
const mostKept = 100

/** Answers to all of the plan; sets that differ in what the boxes play alone share them. */
function stepsOf(question: SteerQuestion): SteerTogetherSolved[] {
  const { set, band: _, frequencyHz: __, error: ___, ...rest } = question
  const { delayS: ____, inverted: _____, levelDb: ______, ...stands } = set
  const key = JSON.stringify([rest, stands, solvedRevision()])
  let steps = kept.get(key)
  if (!steps) {
    steps = steerTogetherPlan(question).map(steerTogetherStep)
    makeRoom(kept, mostKept)
    kept.set(key, steps)
  }
  return steps
}

/**
 * What the figure of steered bass tells in the end: of the set solved as one body where it can be, else of each box alone. Takes about
 * a second a box, and as much for the wall.
 *
 * @param wall  whether the wall as an error is solved, too
 * @throws RangeError as requireSteerable
 */
export function steerAnswerInFull(question: SteerQuestion, { wall = false } = {}): SteerAnswer {
  if (bodyObstacle(question) || !isMirrored(question.surroundings)) return steerAnswer(question)
  const asBody: SteerAsBody = {
    steps: stepsOf(question),
    ...(wall && question.surroundings.kind === 'outdoors' && { walled: stepsOf(withErrorWall(question)) }),
  }
  return steerAnswer({ ...question, asBody })
}
