import {
  type Complex,
  cubicSpline,
  divide,
  multiply,
  type Point,
  type SteeringLines,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { bodiesOf, boxPlaces, outlineOf, type StandingBox, stackPlaces, standing } from './steer-boxes.ts'
import { responsesAt } from './steer-field.ts'
import { everyLine, inStep, meanSquares, type SteerStage, yardstickOf } from './steer-stage.ts'
import { listeningRow, type SheetLine, type SteerQuestion, steerLinesHz } from './steer-terms.ts'

// Lines of a set and its stack solved as one body at some frequencies, and interpolated between them.

/** By box of the set, and of the stack as a whole, pressure at spots, Pa. */
type SolvedSpots = { set: Complex[][]; stack: Complex[] }

/** What was found at one frequency without a wall at all spots of rowsOf, and before the wall, if there is one, at those of front and behind. */
export type SteerTogetherSolved = SolvedSpots & { solvedHz: number; walled: SolvedSpots | null }

/** At most a quarter of an octave apart, in lines. */
const linesPerKnot = 6
/** Boxes so far from each other throw back too little for their ripples to need finer steps, m. */
const longestM = 7

/**
 * The lines at which a set is solved: a quarter of an octave apart, or c/4L where the set is L long, because what one box
 * throws back to another makes ripples about c/2L apart. In between, the change against each box alone is smooth. With a wall, L
 * is at least three times as long as from the foremost face to the wall: the wall shows the set again twice as far off, and what
 * is between both throws back more.
 */
export function knotsOf({ set, size, wallZM, scene: { air } }: SteerStage): number[] {
  const { xMinM, xMaxM, zMinM, zMaxM } = outlineOf(bodiesOf(boxPlaces(set, size), size))
  const toImageM = wallZM === null ? 0 : 3 * (zMaxM - wallZM)
  const longM = Math.max(toImageM, Math.hypot(xMaxM - xMinM, zMaxM - zMinM))
  const stepHz = air.speedOfSoundMps / (4 * Math.min(longestM, longM))
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
 * The places of a stage in rows of spots: in front, behind, and with a wall the mirror images of both, which hear from the
 * boxes what the wall sends back. How the wall's images of the boxes stand in the way is solved apart (see SteerTogetherSolved),
 * because the sum of both rows is not smooth from line to line, and what the images change is.
 */
export function rowsOf({ front, behind, wallZM }: SteerStage): Point[][] {
  if (wallZM === null) return [front, behind]
  const mirrored = (spots: Point[]) => spots.map((spot) => ({ ...spot, zM: 2 * wallZM - spot.zM }))
  return [front, behind, mirrored(front), mirrored(behind)]
}

/** By row of spots: index = line × spots + spot. */
type Responses = { re: Float64Array; im: Float64Array }

/** Lines of a set under any drive, told against the stack, both solved. */
export function solvedStage(
  question: SteerQuestion,
  stage: SteerStage,
  steps: readonly SteerTogetherSolved[],
): (sheet: readonly SheetLine[], among: readonly number[]) => SteeringLines {
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
  /** Front or behind, with what the wall sends back and what its images of the boxes change. */
  const at = (parts: Responses[], row: 0 | 1): Responses => {
    const [direct, ...more] = [parts[row], parts[row + 2], parts[row + 4]].filter((part) => part !== undefined)
    const sum = (part: 're' | 'im') =>
      more.reduce(
        (total, next) => total.map((value, index) => value + (next[part][index] as number)),
        (direct as Responses)[part],
      )
    return { re: sum('re'), im: sum('im') }
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
  return (sheet, among) => ({
    frequenciesHz: steerLinesHz,
    front: re(meanSquares(inFront, sheet, among)),
    behind: re(meanSquares(atBack, sheet, among)),
    stackedFront,
    stackedBehind,
    distanceDb,
  })
}

/**
 * What boxes in step send to each row of spots by line, as solved: at the lines in between, what each spot gets from them
 * alone times the ratio of together and alone, whose real and imaginary part follow a cubic spline over lg f. With a wall, two more
 * rows, front and behind: what the images of the boxes change there, in the same way over what the spot gets without the wall.
 */
function byRow(
  { outdoors }: SteerStage,
  knots: readonly number[],
  rows: readonly Point[][],
  boxes: readonly StandingBox[],
  steps: readonly SteerTogetherSolved[],
  solvedOf: (spots: SolvedSpots) => Complex[],
): Responses[] {
  const { spots } = listeningRow
  const found = (row: Point[], pressureOf: (step: SteerTogetherSolved, spot: number) => Complex) =>
    interpolated(responsesAt(outdoors, boxes, row, steerLinesHz, everyLine), knots, steps, pressureOf)
  const open = rows.map((row, index) => found(row, (step, spot) => solvedOf(step)[index * spots + spot] as Complex))
  if (!steps.some(({ walled }) => walled)) return open
  const changed = rows.slice(0, 2).map((row, index) =>
    found(row, (step, spot) => {
      const at = index * spots + spot
      const before = solvedOf(step.walled as SolvedSpots)[at] as Complex
      const direct = solvedOf(step)[at] as Complex
      const reflected = solvedOf(step)[at + 2 * spots] as Complex
      return { re: before.re - direct.re - reflected.re, im: before.im - direct.im - reflected.im }
    }),
  )
  return [...open, ...changed]
}

/** Pressures at the spots of a row by line from those at the knots, in step with what each spot gets from boxes alone. */
function interpolated(
  alone: Responses,
  knots: readonly number[],
  steps: readonly SteerTogetherSolved[],
  pressureOf: (step: SteerTogetherSolved, spot: number) => Complex,
): Responses {
  const { spots } = listeningRow
  const places = steerLinesHz.map((hz) => Math.log(hz))
  const knotPlaces = knots.map((line) => places[line] as number)
  const aloneAt = (line: number, spot: number): Complex => ({
    re: alone.re[line * spots + spot] as number,
    im: alone.im[line * spots + spot] as number,
  })
  const found = { re: new Float64Array(alone.re.length), im: new Float64Array(alone.im.length) }
  for (let spot = 0; spot < spots; spot++) {
    const ratios = knots.map((line, knot) =>
      divide(pressureOf(steps[knot] as SteerTogetherSolved, spot), aloneAt(line, spot)),
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
}
