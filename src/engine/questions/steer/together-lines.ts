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
export function knotsOf({ set, size, scene: { air } }: SteerStage): number[] {
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
 * The places of a stage in rows of spots: in front, behind, and with a wall the mirror images of both, which hear from the
 * boxes what the wall sends back. That the wall's images of the boxes stand in the way, too, is left out.
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
