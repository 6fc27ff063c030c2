import {
  amplitudeRatio,
  levelDb,
  linesInBand,
  type Point,
  type SteeringLines,
  steeringFigures,
  usableBandHz,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import {
  beforeWallM,
  errorWall,
  type SteerSize,
  sizeOf,
  spotsOf,
  stackPlaces,
  standing,
  wallZMOf,
} from './steer-boxes.ts'
import { steerProblem } from './steer-check.ts'
import {
  gridResponses,
  type LineResponses,
  openScene,
  responsesAt,
  type SteerScene,
  sceneInHall,
} from './steer-field.ts'
import {
  listeningRow,
  type SheetLine,
  type SteerCurves,
  type SteerError,
  type SteerMerits,
  type SteerQuestion,
  type SteerSet,
  type SteerShow,
  type SteerSurroundings,
  steerErrors,
  steerLinesHz,
  steerRange,
  usableRule,
} from './steer-terms.ts'

// What a set and the stack send to places, told against the stack in front outdoors: what answers, maps and searches are made of.

/** A set where it stands, with the places as they are there. */
export type SteerStage = {
  set: SteerSet
  size: SteerSize
  scene: SteerScene
  /** The same boxes on hard ground and nothing else: what 0 dB is told by. */
  outdoors: SteerScene
  wallZM: number | null
  front: Point[]
  behind: Point[]
}

type Staged = Pick<SteerQuestion, 'air' | 'rig' | 'point' | 'set' | 'surroundings' | 'front' | 'behind'>

/** The set of a question with a wall put behind it, or as it is. */
export function stageOf(question: Staged, error: SteerError = 'none'): SteerStage {
  const { set } = question
  const size = sizeOf(question)
  const surroundings: SteerSurroundings =
    error === 'wall' && question.surroundings.kind === 'outdoors' ? errorWall : question.surroundings
  const wallZM = wallZMOf(set, size, surroundings)
  const outdoors = openScene(question, null)
  const leastZM = wallZM === null ? Number.NEGATIVE_INFINITY : wallZM + beforeWallM
  const spots = ({ xM, zM }: { xM: number; zM: number }) => spotsOf({ xM, zM: Math.max(zM, leastZM) })
  const scene =
    surroundings.kind === 'hall'
      ? sceneInHall(question, surroundings.design, set.arrangement)
      : surroundings.kind === 'wall'
        ? openScene(question, wallZM)
        : surroundings.floor === 'hard'
          ? outdoors
          : openScene(question, null, surroundings.floor)
  return { set, size, scene, outdoors, wallZM, front: spots(question.front), behind: spots(question.behind) }
}

/** All lines by their index. */
export const everyLine: readonly number[] = steerLinesHz.map((_, line) => line)

/** Mean square over the spots of a place by line, of boxes each under its drive. */
export function meanSquares(
  parts: readonly Pick<LineResponses, 're' | 'im'>[],
  sheet: readonly Pick<SheetLine, 'delayS' | 'polarity' | 'levelDb'>[],
  among: readonly number[],
): Float64Array {
  const { spots } = listeningRow
  const squares = new Float64Array(steerLinesHz.length)
  const gains = sheet.map(({ levelDb: dB, polarity }) => polarity * amplitudeRatio(dB))
  const [re, im] = [new Float64Array(spots), new Float64Array(spots)]
  for (const line of among) {
    re.fill(0)
    im.fill(0)
    for (const [box, part] of parts.entries()) {
      const phase = -2 * Math.PI * (steerLinesHz[line] as number) * (sheet[box]?.delayS ?? 0)
      const c = (gains[box] as number) * Math.cos(phase)
      const s = (gains[box] as number) * Math.sin(phase)
      for (let spot = 0; spot < spots; spot++) {
        const [a, b] = [part.re[line * spots + spot] as number, part.im[line * spots + spot] as number]
        re[spot] = (re[spot] as number) + a * c - b * s
        im[spot] = (im[spot] as number) + a * s + b * c
      }
    }
    let sum = 0
    for (let spot = 0; spot < spots; spot++) sum += (re[spot] as number) ** 2 + (im[spot] as number) ** 2
    squares[line] = sum / spots
  }
  return squares
}

/** One source as it is. */
export const inStep = [{ delayS: 0, polarity: 1 as const, levelDb: 0 }]

/** Responses of each box of a set to a place. */
export const setResponses = (
  { scene, size }: SteerStage,
  sheet: SheetLine[],
  spots: Point[],
  among: readonly number[],
  keep = true,
): LineResponses[] => standing(sheet, size).map((box) => responsesAt(scene, [box], spots, steerLinesHz, among, keep))

/** What the stack does where the set stands, and outdoors in front, by line. */
export type Yardstick = {
  stackedFront: Float64Array
  stackedBehind: Float64Array
  reference: Float64Array
  distanceDb: number
}

/** The stack, dB taken as mean squares re itself in front outdoors. */
export function yardstickOf(stage: SteerStage, among: readonly number[], keep = true): Yardstick {
  const stack = stackPlaces(stage.set.count, stage.size)
  const at = (scene: SteerScene, spots: Point[]) =>
    meanSquares([responsesAt(scene, stack, spots, steerLinesHz, among, keep)], inStep, among)
  const reference = at(stage.outdoors, stage.front)
  const re = (squares: Float64Array) => squares.map((square, line) => square / (reference[line] || 1))
  return {
    reference,
    stackedFront: re(at(stage.scene, stage.front)),
    stackedBehind: re(at(stage.scene, stage.behind)),
    distanceDb: levelDb(meanOfInverseSquares(stage.front) / meanOfInverseSquares(stage.behind)),
  }
}

/** Mean of 1/r² from the origin on the floor. */
const meanOfInverseSquares = (spots: readonly Point[]): number =>
  spots.reduce((sum, { xM, yM, zM }) => sum + 1 / (xM * xM + yM * yM + zM * zM), 0) / spots.length

/** A set by lines against the stack. */
export function linesOf(
  stage: SteerStage,
  sheet: SheetLine[],
  yardstick: Yardstick,
  among: readonly number[],
  keep = true,
): SteeringLines {
  const { reference, stackedFront, stackedBehind, distanceDb } = yardstick
  const at = (spots: Point[]) =>
    meanSquares(setResponses(stage, sheet, spots, among, keep), sheet, among).map(
      (square, line) => square / (reference[line] || 1),
    )
  return {
    frequenciesHz: steerLinesHz,
    front: at(stage.front),
    behind: at(stage.behind),
    stackedFront,
    stackedBehind,
    distanceDb,
  }
}

/** Figures of merit of a set over the reader's band, and its usable band. */
export const meritsOf = (lines: SteeringLines, band: SteerQuestion['band']): SteerMerits => ({
  ...steeringFigures(lines, linesInBand(lines.frequenciesHz, band)),
  usable: usableBandHz(lines, usableRule),
})

/** Nothing is drawn quieter than this, dB. */
const quietestDb = -120

/** Level of a mean square for a chart. */
export const drawnDb = (square: number): number => levelDb(Math.max(square, 10 ** (quietestDb / 10)))

/** The curves of a chart. */
export const curvesOf = ({ front, behind, stackedFront, stackedBehind }: SteeringLines): SteerCurves => ({
  frontDb: Array.from(front, drawnDb),
  behindDb: Array.from(behind, drawnDb),
  stackedFrontDb: Array.from(stackedFront, drawnDb),
  stackedBehindDb: Array.from(stackedBehind, drawnDb),
})

/** Mean squares at many places at one frequency; places go by a name under which what is costly is kept. */
export type SquaresAt = (
  show: SteerShow,
  sheet: SheetLine[],
  places: readonly Point[],
  name: string,
  frequencyHz: number,
) => Float64Array

/** Mean squares at many places at one frequency, of the set as it plays or of the stack. */
export function placeSquares(
  { size }: SteerStage,
  scene: SteerScene,
  show: SteerShow,
  sheet: SheetLine[],
  places: readonly Point[],
  name: string,
  frequencyHz: number,
): Float64Array {
  if (show === 'stacked') {
    return drivenSquares(
      [gridResponses(scene, stackPlaces(sheet.length, size), places, name, frequencyHz)],
      inStep,
      frequencyHz,
    )
  }
  const parts = standing(sheet, size).map((at) => gridResponses(scene, [at], places, name, frequencyHz))
  return drivenSquares(parts, sheet, frequencyHz)
}

/** Mean squares by place of boxes at one frequency, each under its drive. */
export function drivenSquares(
  parts: readonly Pick<LineResponses, 're' | 'im'>[],
  sheet: readonly Pick<SheetLine, 'delayS' | 'polarity' | 'levelDb'>[],
  frequencyHz: number,
): Float64Array {
  const [sumRe, sumIm] = [0, 0].map(() => new Float64Array(parts[0]?.re.length ?? 0)) as [Float64Array, Float64Array]
  for (const [box, { re, im }] of parts.entries()) {
    const { polarity, levelDb: dB, delayS } = sheet[box] as SheetLine
    const gain = polarity * amplitudeRatio(dB)
    const c = gain * Math.cos(2 * Math.PI * frequencyHz * delayS)
    const s = -gain * Math.sin(2 * Math.PI * frequencyHz * delayS)
    for (let index = 0; index < re.length; index++) {
      const [a, b] = [re[index] as number, im[index] as number]
      sumRe[index] = (sumRe[index] as number) + a * c - b * s
      sumIm[index] = (sumIm[index] as number) + a * s + b * c
    }
  }
  return sumRe.map((value, index) => value * value + (sumIm[index] as number) ** 2)
}

/** @throws RangeError, in plain words, for a question that steerProblem finds fault with, or a place or frequency out of range */
export function requireSteerable(question: SteerQuestion): void {
  const { front, behind, frequencyHz } = question
  requireInRange('front.zM', front.zM, { ...steerRange.frontM, unit: 'm' })
  requireInRange('behind.zM', -behind.zM, { ...steerRange.behindM, unit: 'm behind the origin' })
  requireInRange('front.xM', front.xM, { ...steerRange.asideM, unit: 'm' })
  requireInRange('behind.xM', behind.xM, { ...steerRange.asideM, unit: 'm' })
  requireInRange('frequencyHz', frequencyHz, { ...steerRange.frequencyHz, unit: 'Hz' })
  if (!steerErrors.includes(question.error)) {
    throw new RangeError(`error is ${String(question.error)}; allowed is ${steerErrors.join(', ')}`)
  }
  const problem = steerProblem(question)
  if (!problem) return
  switch (problem.kind) {
    case 'overlap':
      throw new RangeError(
        `set.spacingM is ${question.set.spacingM}, so that boxes would stand in each other; allowed is from ${problem.neededM} m`,
      )
    case 'count':
      throw new RangeError(
        `set.count is ${question.set.count}; allowed is a whole number from ${problem.min} to ${problem.max}`,
      )
    case 'range':
      throw new RangeError(`${problem.name} is out of range; allowed is from ${problem.min} to ${problem.max}`)
    case 'outside-hall':
      throw new RangeError('a box would stand outside the hall; allowed is any set within its walls')
    case 'band':
      throw new RangeError(
        `band is ${question.band.fromHz} to ${question.band.toHz} Hz; allowed is a rising band from ${steerRange.bandHz.min} to ${steerRange.bandHz.max} Hz`,
      )
    case 'place':
      throw new RangeError(`the place ${problem.which} is ${problem.why}; allowed is any place outside boxes and walls`)
  }
}
