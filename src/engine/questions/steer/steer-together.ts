import { type Complex, type GroupBox, leastGapM, narrowestGapM, solveCabinetGroup } from '../../../acoustics/index.ts'
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

/**
 * Panels along half an edge, see solveCabinetGroup: many for two boxes, which are quick, and few for a long line of turned ones,
 * which is not its own mirror image front to back.
 */
function panelsFor({ arrangement, count, turned }: SteerSet): number {
  if (count <= 2) return 4
  return arrangement === 'end-fire' && turned && count > 3 ? 2 : 3
}

/** The question as it is solved: without an error, and outdoors instead of in a hall. */
function solvable(question: SteerQuestion): SteerQuestion {
  const { surroundings } = question
  return {
    ...question,
    error: 'none',
    surroundings: surroundings.kind === 'hall' ? { kind: 'outdoors', floor: 'hard' } : surroundings,
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
 * Set and stack, each solved as one group of bodies on a hard floor, at one frequency: about 0.3 s for a pair, 1.5 s for six.
 *
 * @throws RangeError as requireSteerable and solveCabinetGroup
 */
export function steerTogetherStep(step: SteerTogetherStep): SteerTogetherSolved {
  requireSteerable(step)
  const { solvedHz, set } = step
  const stage = stageOf(step)
  const spots = rowsOf(stage).flat()
  const options = { fewestPanels: panelsFor(set) }
  const solve = (bodies: GroupBox[]) => solveCabinetGroup(bodies, 'hard-floor', solvedHz, stage.scene.air, options)
  const group = solve(setBodies(step, stage.size))
  const stacked = stackPlaces(set.count, stage.size)
  const stack = solve(bodiesAt(step, stacked))
  const sum = (parts: Complex[]): Complex =>
    parts.reduce((total, { re, im }) => ({ re: total.re + re, im: total.im + im }), { re: 0, im: 0 })
  return {
    solvedHz,
    set: Array.from({ length: set.count }, (_, box) => spots.map((spot) => group.pressureAt(box, spot))),
    stack: spots.map((spot) => sum(stacked.map((_, box) => stack.pressureAt(box, spot)))),
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
