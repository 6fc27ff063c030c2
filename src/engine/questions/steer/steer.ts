import { levelDb, linesInBand, type Point, type SteeringLines, steeringFigures } from '../../../acoustics/index.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { bodySquares } from './body-places.ts'
import { bodyObstacle } from './steer-bodies.ts'
import {
  bodiesOf,
  boxPlaces,
  faultySheet,
  isInABox,
  outlineOf,
  roomOf,
  type SteerSize,
  stackPlaces,
} from './steer-boxes.ts'
import { lanesOf } from './steer-lanes.ts'
import {
  curvesOf,
  drawnDb,
  everyLine,
  linesOf,
  meritsOf,
  placeSquares,
  requireSteerable,
  type SquaresAt,
  type SteerStage,
  stageOf,
  yardstickOf,
} from './steer-stage.ts'
import {
  isMirrored,
  polarStepDeg,
  type SheetLine,
  type SteerAnswer,
  type SteerBandRow,
  type SteerError,
  type SteerMerits,
  type SteerPicture,
  type SteerQuestion,
  type SteerShow,
  steerBands,
  steerLinesHz,
  steerPlanM,
} from './steer-terms.ts'
import { type SteerTogetherSolved, solvedStage } from './together-lines.ts'

/** What is known of a set as one body: answers of steerTogetherStep to all of its plan, and to that of the set with the wall of the error. */
export type SteerAsBody = { steps: readonly SteerTogetherSolved[]; walled?: readonly SteerTogetherSolved[] }

/**
 * Everything that the figure shows but for the map. `merits`, `bands` and `errors` are told without the question's error;
 * curves and polar are with it. The polar is far away on hard ground without walls, whatever the surroundings.
 *
 * Without `asBody` each box radiates as alone, and the stack as a sum of such boxes.
 *
 * @throws RangeError as requireSteerable, or for steps that are not the plan's
 */
export function steerAnswer(question: SteerQuestion & { asBody?: SteerAsBody | undefined }): SteerAnswer {
  requireSteerable(question)
  const { set, band, error, surroundings, frequencyHz, asBody } = question
  const stage = stageOf(question)
  const sheet = boxPlaces(set, stage.size)
  const linesAt = linesBy(stage, asBody?.steps)
  const walled = surroundings.kind === 'outdoors' ? stageOf(question, 'wall') : null
  const wallToCome = walled !== null && asBody !== undefined && !asBody.walled
  const walledLines = walled && !wallToCome ? linesBy(walled, asBody?.walled)(sheet) : null
  const lines = linesAt(sheet)
  const linesWith = (what: SteerError): SteeringLines | null =>
    what === 'wall' ? walledLines : linesAt(faultySheet(sheet, set, what))
  const meritsWith = (what: SteerError): SteerMerits | null => {
    const faulty = linesWith(what)
    return faulty && meritsOf(faulty, band)
  }
  const played = faultySheet(sheet, set, error)
  const squaresAt = openSquares(question, stage, asBody !== undefined)
  return {
    curves: curvesOf((error === 'none' ? lines : linesWith(error)) ?? lines),
    merits: meritsOf(lines, band),
    bands: steerBands.map(({ nominalHz, lowerHz, upperHz }): SteerBandRow => {
      const among = linesInBand(steerLinesHz, { fromHz: lowerHz, toHz: upperHz })
      return { bandHz: nominalHz, ...steeringFigures(lines, among) }
    }),
    errors: {
      late: meritsWith('late'),
      quiet: meritsWith('quiet'),
      polarity: meritsWith('polarity'),
      wall: meritsWith('wall'),
    },
    asBody: asBody !== undefined,
    wallToCome,
    polar: polarOf(squaresAt, played, frequencyHz),
    cost: costOf(sheet, stage.size),
    sheet,
    lanes: lanesOf(squaresAt, played, question),
  }
}

/** Lines of a set under any drive: of one body where its steps are known, else of each box alone. */
function linesBy(
  stage: SteerStage,
  steps: readonly SteerTogetherSolved[] | undefined,
): (sheet: SheetLine[]) => SteeringLines {
  if (steps) {
    const solved = solvedStage(stage, steps)
    return (sheet) => solved(sheet, everyLine)
  }
  const yardstick = yardstickOf(stage, everyLine)
  return (sheet) => linesOf(stage, sheet, yardstick, everyLine)
}

/** Mean squares at places on hard ground and nothing else, as one body or of each box alone. */
const openSquares =
  (question: SteerQuestion, stage: SteerStage, asBody: boolean): SquaresAt =>
  (show, sheet, places, name, frequencyHz) =>
    asBody
      ? bodySquares(question, stage, null, show, sheet, places, name, frequencyHz)
      : placeSquares(stage, stage.outdoors, show, sheet, places, name, frequencyHz)

function costOf(sheet: SheetLine[], size: SteerSize): SteerAnswer['cost'] {
  const { xMinM, xMaxM, zMinM, zMaxM } = outlineOf(bodiesOf(sheet, size))
  const [widthM, depthM] = [xMaxM - xMinM, zMaxM - zMinM]
  return { boxes: sheet.length, widthM, depthM, floorM2: widthM * depthM }
}

/** A distance at which every wave is flat: the ways of boxes 12 m apart differ from parallel ones by less than 1 mm. */
const farM = 5e4

/** Points all round on the ground, from straight ahead to the right. */
const round: Point[] = Array.from({ length: 360 / polarStepDeg }, (_, step) => {
  const angleRad = (step * polarStepDeg * Math.PI) / 180
  return { xM: farM * Math.sin(angleRad), yM: 0, zM: farM * Math.cos(angleRad) }
})

function polarOf(squaresAt: SquaresAt, sheet: SheetLine[], frequencyHz: number): SteerAnswer['polar'] {
  const stacked = squaresAt('stacked', sheet, round, 'round', frequencyHz)
  const ahead = stacked[0] as number
  const set = squaresAt('set', sheet, round, 'round', frequencyHz)
  const levels = (squares: Float64Array) => Array.from(squares, (square) => drawnDb(square / ahead))
  return { setDb: levels(set), stackedDb: levels(stacked) }
}

/** Cells of the map: about 0.4 m wide. */
const cellM = 0.4

/** How far the outermost cells lie off a hall's walls, m. */
const insetM = 0.05

/** Steps of the table that tells the stack straight ahead. */
const tableSteps = 160

/**
 * The level over the plan at one frequency.
 *
 * @param question.asBody  whether the boxes are solved as one body where they can be (outdoors on hard ground, see bodyObstacle),
 *                         which takes about 0.1 to 0.5 s
 * @throws RangeError as requireSteerable
 */
export function steerPicture(question: SteerQuestion & { show: SteerShow; asBody?: boolean }): SteerPicture {
  requireSteerable(question)
  const { set, surroundings, error, frequencyHz, show } = question
  const asBody = question.asBody === true && isMirrored(surroundings) && !bodyObstacle(question)
  const stage = stageOf(question, error)
  const { size, scene, wallZM } = stage
  const sheet = faultySheet(boxPlaces(set, size), set, error)
  const room = surroundings.kind === 'hall' ? roomOf(surroundings.design, set.arrangement) : null
  const { halfWidth, behind, forward } = steerPlanM
  const limits = room
    ? {
        xMinM: room.xMinM + insetM,
        xMaxM: room.xMaxM - insetM,
        zMinM: room.zMinM + insetM,
        zMaxM: room.zMaxM - insetM,
      }
    : { xMinM: -halfWidth, xMaxM: halfWidth, zMinM: Math.max(-behind, wallZM ?? -behind), zMaxM: forward }
  const columns = Math.round((limits.xMaxM - limits.xMinM) / cellM) + 1
  const rows = Math.round((limits.zMaxM - limits.zMinM) / cellM) + 1
  const places = Array.from({ length: columns * rows }, (_, index): Point => {
    const [row, column] = [Math.floor(index / columns), index % columns]
    return {
      xM: limits.xMinM + ((limits.xMaxM - limits.xMinM) * column) / (columns - 1),
      yM: earHeightM,
      zM: limits.zMinM + ((limits.zMaxM - limits.zMinM) * row) / (rows - 1),
    }
  })
  const farthestM = Math.max(...places.map(({ xM, zM }) => Math.hypot(xM, zM)))
  const ahead = Array.from({ length: tableSteps + 1 }, (_, step) => ({
    xM: 0,
    yM: earHeightM,
    zM: (farthestM * step) / tableSteps,
  }))
  const squaresAt = openSquares(question, stage, asBody)
  const aheadDb = Array.from(squaresAt('stacked', sheet, ahead, `ahead ${farthestM}`, frequencyHz), levelDb)
  const referenceDb = (distanceM: number): number => {
    const at = (distanceM / farthestM) * tableSteps
    const below = Math.min(tableSteps - 1, Math.floor(at))
    const low = aheadDb[below] as number
    return low + ((aheadDb[below + 1] as number) - low) * (at - below)
  }
  const name = `map ${JSON.stringify(limits)}`
  const squares = asBody
    ? bodySquares(question, stage, wallZM, show, sheet, places, name, frequencyHz)
    : placeSquares(stage, scene, show, sheet, places, name, frequencyHz)
  const bodies = bodiesOf(show === 'set' ? sheet : stackPlaces(sheet.length, size), size)
  const inside = Uint8Array.from(places, (place) => (isInABox(place, bodies) ? 1 : 0))
  const levels = Float32Array.from(places, ({ xM, zM }, index) =>
    inside[index] ? 0 : levelDb(Math.max(squares[index] as number, 1e-30)) - referenceDb(Math.hypot(xM, zM)),
  )
  return { columns, rows, ...limits, levelDb: levels, inside }
}
