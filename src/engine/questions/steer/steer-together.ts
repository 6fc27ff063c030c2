import {
  type Complex,
  type GroupBox,
  type GroupOptions,
  leastGapM,
  narrowestGapM,
  type Point,
  solveCabinetGroup,
} from '../../../acoustics/index.ts'
import { wayCabinet } from '../../scene/solved-gear.ts'
import { boxOf, boxPlaces, type StandingBox, stackPlaces, standing } from './steer-boxes.ts'
import {
  curvesOf,
  everyLine,
  linesOf,
  meritsOf,
  requireSteerable,
  type SteerStage,
  stageOf,
  yardstickOf,
} from './steer-stage.ts'
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

/** The question as it is solved: without an error, and outdoors on hard ground instead of in a hall or on grass. */
function solvable(question: SteerQuestion): SteerQuestion {
  const { surroundings } = question
  return {
    ...question,
    error: 'none',
    surroundings: surroundings.kind === 'wall' ? surroundings : { kind: 'outdoors', floor: 'hard' },
  }
}

/** Boxes as bodies; what stands on the floor does so to the last bit. */
function bodiesAt({ rig }: SteerQuestion, boxes: readonly StandingBox[]): GroupBox[] {
  const { cabinet, way } = boxOf(rig)
  return boxes.map(({ xM, yM, zM, turned }) => ({
    cabinet: wayCabinet(cabinet, way),
    position: { xM, yM, zM },
    turned,
  }))
}

const setBodies = (question: SteerQuestion, size: SteerStage['size']): GroupBox[] =>
  bodiesAt(question, standing(boxPlaces(question.set, size), size))

/** Why there is nothing to solve; null if there is. */
function obstacleOf(question: SteerQuestion): Exclude<SteerTogether, { kind: 'solved' }> | null {
  if (question.point) return { kind: 'points' }
  // Groups of bodies know apertures on front faces alone.
  if (boxOf(question.rig).way.port) return { kind: 'port' }
  const gapM = narrowestGapM(setBodies(question, stageOf(question).size))
  return gapM < leastGapM - 1e-6 ? { kind: 'too-close', gapM, neededM: leastGapM } : null
}

/**
 * The frequencies at which a set is to be solved, each a step; none where there is nothing to solve.
 *
 * @throws RangeError as requireSteerable
 */
export function steerTogetherPlan(question: SteerQuestion): SteerTogetherStep[] {
  requireSteerable(question)
  const plain = solvable(question)
  if (obstacleOf(plain)) return []
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
  const stacked = bodiesAt(step, stackPlaces(set.count, stage.size))
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
  const obstacle = obstacleOf(plain)
  if (obstacle) return obstacle
  const { set, band } = plain
  const stage = stageOf(plain)
  const sheet = boxPlaces(set, stage.size)
  const together = solvedStage(plain, stage, steps)
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
