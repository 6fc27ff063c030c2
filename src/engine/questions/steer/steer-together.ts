import {
  type Complex,
  type GroupBox,
  type GroupOptions,
  type Point,
  solveCabinetGroup,
} from '../../../acoustics/index.ts'
import { bodyObstacle, setBodies, solvable, stackBodies } from './steer-bodies.ts'
import { boxPlaces } from './steer-boxes.ts'
import { curvesOf, everyLine, linesOf, meritsOf, requireSteerable, stageOf, yardstickOf } from './steer-stage.ts'
import {
  type SteerCandidate,
  type SteerQuestion,
  type SteerSet,
  type SteerTogether,
  steerLinesHz,
} from './steer-terms.ts'
import { knotsOf, rowsOf, type SteerTogetherSolved, solvedStage } from './together-lines.ts'
import { trimmedSet } from './trimmed-set.ts'

/** One frequency at which the set and the stack are solved. */
export type SteerTogetherStep = SteerQuestion & { solvedHz: number }

/**
 * The frequencies at which a set is to be solved, each a step; none where there is nothing to solve.
 *
 * @throws RangeError as requireSteerable
 */
export function steerTogetherPlan(question: SteerQuestion): SteerTogetherStep[] {
  requireSteerable(question)
  const plain = solvable(question)
  if (bodyObstacle(plain)) return []
  return knotsOf(stageOf(plain)).map((line) => ({ ...plain, solvedHz: steerLinesHz[line] as number }))
}

/**
 * Set and stack, each solved as one group of bodies on a hard floor, at one frequency, and with a wall before it, too. `npm run bench` prints
 * the seconds.
 *
 * @throws RangeError as requireSteerable and solveCabinetGroup
 */
export function steerTogetherStep(step: SteerTogetherStep): SteerTogetherSolved {
  requireSteerable(step)
  const { solvedHz, set } = step
  const stage = stageOf(step)
  const { front, behind, wallZM, scene } = stage
  const stacked = stackBodies(step, stage.size)
  const solve = (bodies: GroupBox[], spots: Point[], options: GroupOptions): Complex[][] => {
    const group = solveCabinetGroup(bodies, 'hard-floor', solvedHz, scene.air, options)
    return spots.map((spot) => group.pressuresAt(spot))
  }
  const solveBoth = (spots: Point[], before: GroupOptions) => {
    const bySpot = solve(setBodies(step, stage.size), spots, before)
    return {
      set: Array.from({ length: set.count }, (_, box) => bySpot.map((boxes) => boxes[box] as Complex)),
      stack: solve(stacked, spots, { ...before, inStep: true }).map(([sum]) => sum as Complex),
    }
  }
  return {
    solvedHz,
    ...solveBoth(rowsOf(stage).flat(), {}),
    walled: wallZM === null ? null : solveBoth([...front, ...behind], { wallZM }),
  }
}

/**
 * A set with its boxes solved together, beside each box alone, and how delay and level are best trimmed then: the most
 * rejection in the band within trimRange, polarity and spacing kept, front loss no more than the rule's or the present one.
 *
 * @param question.steps  answers of steerTogetherStep to all of the plan, in any order
 * @throws RangeError as requireSteerable, or for steps that are not the plan's
 */
export function steerTogether(question: SteerQuestion & { steps: readonly SteerTogetherSolved[] }): SteerTogether {
  requireSteerable(question)
  const { steps, ...asked } = question
  const plain = solvable(asked)
  const obstacle = bodyObstacle(plain)
  if (obstacle) return obstacle
  const { set, band } = plain
  const stage = stageOf(plain)
  const sheet = boxPlaces(set, stage.size)
  const together = solvedStage(stage, steps)
  const candidate = (of: SteerSet): SteerCandidate => ({
    set: of,
    merits: meritsOf(together(boxPlaces(of, stage.size), everyLine), band),
  })
  const lines = together(sheet, everyLine)
  return {
    kind: 'solved',
    alone: { set, merits: meritsOf(linesOf(stage, sheet, yardstickOf(stage, everyLine), everyLine), band) },
    together: { set, merits: meritsOf(lines, band) },
    trimmed: candidate(trimmedSet(plain, (of, among) => together(boxPlaces(of, stage.size), among))),
    curves: curvesOf(lines),
  }
}
