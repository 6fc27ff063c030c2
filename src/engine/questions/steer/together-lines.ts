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
import { listeningRow, type SheetLine, steerLinesHz } from './steer-terms.ts'

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
export type SpotResponses = { re: Float64Array; im: Float64Array }

/** What set and stack, each solved as one body, send to the spots of both places under unit drive. */
export type BodyResponses = {
  /** By box of the set. */
  front: SpotResponses[]
  behind: SpotResponses[]
  stackedFront: SpotResponses
  stackedBehind: SpotResponses
  /** The stack in front on hard ground and nothing else: what 0 dB is told by. */
  reference: SpotResponses
}

/**
 * What set and stack send to both places at frequencies, from those at which they are solved. Beyond these, what the others change
 * stays as it is at the nearest.
 *
 * @param linesHz  rising
 * @throws RangeError for steps that are not the plan's
 */
export function bodyResponses(
  stage: SteerStage,
  steps: readonly SteerTogetherSolved[],
  linesHz: readonly number[] = steerLinesHz,
): BodyResponses {
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
  const { set } = stage
  const grid: Grid = { knots, steps: inOrder, linesHz }
  const rows = rowsOf(stage)
  const boxes = standing(boxPlaces(set, stage.size), stage.size)
  const placed = boxes.map((box, index) => byRow(stage, grid, rows, [box], (spots) => spots.set[index] as Complex[]))
  const stack = byRow(stage, grid, rows, stackPlaces(set.count, stage.size), (spots) => spots.stack)
  /** Front or behind, with what the wall sends back and what its images of the boxes change. */
  const at = (parts: SpotResponses[], row: 0 | 1): SpotResponses => {
    const [direct, ...more] = [parts[row], parts[row + 2], parts[row + 4]].filter((part) => part !== undefined)
    const sum = (part: 're' | 'im') =>
      more.reduce(
        (total, next) => total.map((value, index) => value + (next[part][index] as number)),
        (direct as SpotResponses)[part],
      )
    return { re: sum('re'), im: sum('im') }
  }
  return {
    front: placed.map((parts) => at(parts, 0)),
    behind: placed.map((parts) => at(parts, 1)),
    stackedFront: at(stack, 0),
    stackedBehind: at(stack, 1),
    reference: stack[0] as SpotResponses,
  }
}

/** Lines of a set under any drive, told against the stack, both solved. */
export function solvedStage(
  stage: SteerStage,
  steps: readonly SteerTogetherSolved[],
): (sheet: readonly SheetLine[], among: readonly number[]) => SteeringLines {
  const found = bodyResponses(stage, steps)
  const reference = meanSquares([found.reference], inStep, everyLine)
  const re = (squares: Float64Array) => squares.map((square, line) => square / (reference[line] as number))
  const [stackedFront, stackedBehind] = [found.stackedFront, found.stackedBehind].map((stack) =>
    re(meanSquares([stack], inStep, everyLine)),
  ) as [Float64Array, Float64Array]
  const { distanceDb } = yardstickOf(stage, [0])
  return (sheet, among) => ({
    frequenciesHz: steerLinesHz,
    front: re(meanSquares(found.front, sheet, among)),
    behind: re(meanSquares(found.behind, sheet, among)),
    stackedFront,
    stackedBehind,
    distanceDb,
  })
}

/** Where it is solved, in lines, what was found there, and where it is wanted. */
type Grid = { knots: readonly number[]; steps: readonly SteerTogetherSolved[]; linesHz: readonly number[] }

/**
 * What boxes in step send to each row of spots by line, as solved: at the lines in between, what each spot gets from them
 * alone times the ratio of together and alone, whose real and imaginary part follow a cubic spline over lg f. With a wall, two more
 * rows, front and behind: what the images of the boxes change there, in the same way over what the spot gets without the wall.
 */
function byRow(
  { outdoors }: SteerStage,
  grid: Grid,
  rows: readonly Point[][],
  boxes: readonly StandingBox[],
  solvedOf: (spots: SolvedSpots) => Complex[],
): SpotResponses[] {
  const { spots } = listeningRow
  const lines = grid.linesHz.map((_, line) => line)
  const found = (row: Point[], pressureOf: (step: SteerTogetherSolved, spot: number) => Complex) =>
    interpolated(
      responsesAt(outdoors, boxes, row, steerLinesHz, grid.knots),
      responsesAt(outdoors, boxes, row, grid.linesHz, lines),
      grid,
      pressureOf,
    )
  const open = rows.map((row, index) => found(row, (step, spot) => solvedOf(step)[index * spots + spot] as Complex))
  if (!grid.steps.some(({ walled }) => walled)) return open
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
  atKnots: SpotResponses,
  alone: SpotResponses,
  { knots, steps, linesHz }: Grid,
  pressureOf: (step: SteerTogetherSolved, spot: number) => Complex,
): SpotResponses {
  const { spots } = listeningRow
  const knotPlaces = knots.map((line) => Math.log(steerLinesHz[line] as number))
  const [first, last] = [knotPlaces[0] as number, knotPlaces.at(-1) as number]
  const places = linesHz.map((hz) => Math.min(last, Math.max(first, Math.log(hz))))
  const pressureIn = ({ re, im }: SpotResponses, line: number, spot: number): Complex => ({
    re: re[line * spots + spot] as number,
    im: im[line * spots + spot] as number,
  })
  const found = { re: new Float64Array(alone.re.length), im: new Float64Array(alone.im.length) }
  for (let spot = 0; spot < spots; spot++) {
    const ratios = knots.map((line, knot) =>
      divide(pressureOf(steps[knot] as SteerTogetherSolved, spot), pressureIn(atKnots, line, spot)),
    )
    const [re, im] = [ratios.map((ratio) => ratio.re), ratios.map((ratio) => ratio.im)].map((parts) =>
      cubicSpline(knotPlaces, parts),
    ) as [(at: number) => number, (at: number) => number]
    for (const [line, place] of places.entries()) {
      const pressure = multiply(pressureIn(alone, line, spot), { re: re(place), im: im(place) })
      found.re[line * spots + spot] = pressure.re
      found.im[line * spots + spot] = pressure.im
    }
  }
  return found
}
