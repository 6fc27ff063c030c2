import {
  type Complex,
  cubicSpline,
  divide,
  type GroupBox,
  leastGapM,
  linesInBand,
  multiply,
  narrowestGapM,
  type Point,
  type SteeringLines,
  solveCabinetGroup,
  steeringFigures,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { wayCabinet } from '../../scene/solved-gear.ts'
import { bodiesOf, boxOf, boxPlaces, outlineOf, type StandingBox, stackPlaces, standing } from './steer-check.ts'
import { responsesAt } from './steer-field.ts'
import {
  drawnDb,
  everyLine,
  inStep,
  linesOf,
  meanSquares,
  meritsOf,
  requireSteerable,
  type SteerStage,
  stageOf,
  yardstickOf,
} from './steer-stage.ts'
import {
  listeningRow,
  type SteerCandidate,
  type SteerCurves,
  type SteerPatchLine,
  type SteerQuestion,
  type SteerSet,
  type SteerTogether,
  steerLinesHz,
  steerRange,
  trimRange,
  usableRule,
} from './steer-terms.ts'

/** One frequency at which the set and the stack are solved. */
export type SteerTogetherStep = SteerQuestion & { solvedHz: number }

/** What was found at one frequency: by box of the set, and of the stack as a whole, pressure at all spots, Pa. */
export type SteerTogetherSolved = { solvedHz: number; set: Complex[][]; stack: Complex[] }

/** At most a quarter of an octave apart, in lines. */
const linesPerKnot = 6
/** Boxes so far from each other throw back too little for their ripples to need finer steps, m. */
const longestM = 7

/**
 * The lines at which a set is solved: a quarter of an octave apart, or c/4L where the set is L long, because what one box
 * throws back to another makes ripples about c/2L apart. In between, the change against each box alone is smooth.
 */
function knotsOf({ set, size, scene: { air } }: SteerStage): number[] {
  const { xMinM, xMaxM, zMinM, zMaxM } = outlineOf(bodiesOf(boxPlaces(set, size), size))
  const stepHz = air.speedOfSoundMps / (4 * Math.min(longestM, Math.hypot(xMaxM - xMinM, zMaxM - zMinM)))
  const hz = (line: number) => steerLinesHz[line] as number
  const last = steerLinesHz.length - 1
  const knots = [0]
  for (let at = 0; at < last; knots.push(at)) {
    const from = at++
    while (at < Math.min(last, from + linesPerKnot) && hz(at + 1) - hz(from) <= stepHz) at++
  }
  return knots
}

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
  const gapM = narrowestGapM(setBodies(question, stageOf(question).size))
  return gapM < leastGapM - 1e-6 ? { kind: 'too-close', gapM, neededM: leastGapM } : null
}

/**
 * The places of a stage in rows of spots: in front, behind, and with a wall the mirror images of both, which hear from the
 * boxes what the wall sends back. That the wall's images of the boxes stand in the way, too, is left out.
 */
function rowsOf({ front, behind, wallZM }: SteerStage): Point[][] {
  if (wallZM === null) return [front, behind]
  const mirrored = (spots: Point[]) => spots.map((spot) => ({ ...spot, zM: 2 * wallZM - spot.zM }))
  return [front, behind, mirrored(front), mirrored(behind)]
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
  const patch = boxPlaces(set, stage.size)
  const together = solvedStage(plain, stage, steps)
  const candidate = (of: SteerSet): SteerCandidate => ({
    set: of,
    merits: meritsOf(together(boxPlaces(of, stage.size), everyLine), band),
  })
  const lines = together(patch, everyLine)
  return {
    kind: 'solved',
    alone: { set, merits: meritsOf(linesOf(stage, patch, yardstickOf(stage, everyLine), everyLine), band) },
    together: { set, merits: meritsOf(lines, band) },
    trimmed: candidate(trimmedSet(plain, (of, among) => together(boxPlaces(of, stage.size), among))),
    curves: curvesOf(lines),
  }
}

const curvesOf = ({ front, behind, stackedFront, stackedBehind }: SteeringLines): SteerCurves => ({
  frontDb: Array.from(front, drawnDb),
  behindDb: Array.from(behind, drawnDb),
  stackedFrontDb: Array.from(stackedFront, drawnDb),
  stackedBehindDb: Array.from(stackedBehind, drawnDb),
})

/** By row of spots: index = line × spots + spot. */
type Responses = { re: Float64Array; im: Float64Array }

/** Lines of a set under any drive, told against the stack, both solved. */
function solvedStage(
  question: SteerQuestion,
  stage: SteerStage,
  steps: readonly SteerTogetherSolved[],
): (patch: readonly SteerPatchLine[], among: readonly number[]) => SteeringLines {
  const knots = knotsOf(stage)
  const inOrder = steps.toSorted((a, b) => a.solvedHz - b.solvedHz)
  requireInRange('steps.length', inOrder.length, { min: knots.length, max: knots.length })
  for (const [i, line] of knots.entries()) {
    const expectedHz = steerLinesHz[line] as number
    requireInRange(`steps[${i}].solvedHz`, (inOrder[i] as SteerTogetherSolved).solvedHz, {
      min: expectedHz,
      max: expectedHz,
      unit: 'Hz',
    })
  }
  const rows = rowsOf(stage)
  const boxes = standing(boxPlaces(question.set, stage.size), stage.size)
  const placed = boxes.map((box, index) =>
    byRow(stage, knots, rows, [box], inOrder, ({ set }) => set[index] as Complex[]),
  )
  const stack = byRow(stage, knots, rows, stackPlaces(question.set.count, stage.size), inOrder, (step) => step.stack)
  /** Front or behind, with the wall's reflection. */
  const at = (parts: Responses[], row: 0 | 1): Responses => {
    const [direct, reflected] = [parts[row] as Responses, parts[row + 2]]
    if (!reflected) return direct
    const both = (part: 're' | 'im') => direct[part].map((value, index) => value + (reflected[part][index] as number))
    return { re: both('re'), im: both('im') }
  }
  const reference = meanSquares([stack[0] as Responses], inStep, everyLine)
  const re = (squares: Float64Array) => squares.map((square, line) => square / (reference[line] as number))
  const stackedAt = (row: 0 | 1) => re(meanSquares([at(stack, row)], inStep, everyLine))
  const [stackedFront, stackedBehind] = [stackedAt(0), stackedAt(1)]
  const [inFront, atBack] = ([0, 1] as const).map((row) => placed.map((parts) => at(parts, row))) as [
    Responses[],
    Responses[],
  ]
  const { distanceDb } = yardstickOf(stage, [0])
  return (patch, among) => ({
    frequenciesHz: steerLinesHz,
    front: re(meanSquares(inFront, patch, among)),
    behind: re(meanSquares(atBack, patch, among)),
    stackedFront,
    stackedBehind,
    distanceDb,
  })
}

/**
 * What boxes in step send to each row of spots by line, as solved: at the lines in between, what each spot gets from them
 * alone times the ratio of together and alone, whose real and imaginary part follow a cubic spline over lg f.
 */
function byRow(
  { outdoors }: SteerStage,
  knots: readonly number[],
  rows: readonly Point[][],
  boxes: readonly StandingBox[],
  steps: readonly SteerTogetherSolved[],
  solvedOf: (step: SteerTogetherSolved) => Complex[],
): Responses[] {
  const { spots } = listeningRow
  const places = steerLinesHz.map((hz) => Math.log(hz))
  const knotPlaces = knots.map((line) => places[line] as number)
  return rows.map((row, index) => {
    const alone = responsesAt(outdoors, boxes, row, steerLinesHz, everyLine)
    const aloneAt = (line: number, spot: number): Complex => ({
      re: alone.re[line * spots + spot] as number,
      im: alone.im[line * spots + spot] as number,
    })
    const found = { re: new Float64Array(alone.re.length), im: new Float64Array(alone.im.length) }
    for (let spot = 0; spot < spots; spot++) {
      const ratios = knots.map((line, knot) =>
        divide(solvedOf(steps[knot] as SteerTogetherSolved)[index * spots + spot] as Complex, aloneAt(line, spot)),
      )
      const [re, im] = [ratios.map((ratio) => ratio.re), ratios.map((ratio) => ratio.im)].map((parts) =>
        cubicSpline(knotPlaces, parts),
      ) as [(at: number) => number, (at: number) => number]
      for (const line of everyLine) {
        const place = places[line] as number
        const pressure = multiply(aloneAt(line, spot), { re: re(place), im: im(place) })
        found.re[line * spots + spot] = pressure.re
        found.im[line * spots + spot] = pressure.im
      }
    }
    return found
  })
}

/** A rejection must be better by more than this to count as better, dB: rounding. */
const betterByDb = 1e-9

/** Values of a range's grid within so much of the present one, and that one itself, nearest first. */
function near(
  present: number,
  within: number,
  { min, max, step }: { min: number; max: number; step: number },
): number[] {
  const from = Math.ceil((Math.max(min, present - within) - 1e-9) / step)
  const to = Math.floor((Math.min(max, present + within) + 1e-9) / step)
  const grid = Array.from({ length: to - from + 1 }, (_, i) => Number(((from + i) * step).toFixed(6)))
  const others = grid.filter((value) => Math.abs(value - present) > 1e-9)
  return [present, ...others.toSorted((a, b) => Math.abs(a - present) - Math.abs(b - present) || a - b)]
}

/**
 * The present set with the delay and level of the others that reject most. Every setting of the grid is tried, nearest to
 * the present one first; polarity stays, which is why this is not bestSteeringDrive. Others that play louder than the first
 * count as lost, as in a search.
 */
function trimmedSet(
  { set, band }: SteerQuestion,
  linesAt: (set: SteerSet, among: readonly number[]) => SteeringLines,
): SteerSet {
  const among = linesInBand(steerLinesHz, band)
  const figuresOf = (of: SteerSet) => {
    const { rejectionDb, frontLossDb } = steeringFigures(linesAt(of, among), among)
    return { rejectionDb, lostDb: frontLossDb + Math.max(0, of.levelDb) }
  }
  const present = figuresOf(set)
  const mostLostDb = Math.max(usableRule.frontLossDb, present.lostDb) + betterByDb
  let [best, mostDb] = [set, present.rejectionDb]
  for (const delayS of near(set.delayS, trimRange.delayS, steerRange.delayS)) {
    for (const levelDb of near(set.levelDb, trimRange.levelDb, steerRange.levelDb)) {
      const tried = { ...set, delayS, levelDb }
      const { rejectionDb, lostDb } = figuresOf(tried)
      if (lostDb > mostLostDb || rejectionDb <= mostDb + betterByDb) continue
      best = tried
      mostDb = rejectionDb
    }
  }
  return best
}
