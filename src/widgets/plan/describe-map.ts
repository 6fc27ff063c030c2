import { distanceToFootprintM } from '../../acoustics/field/footprint.ts'
import { type PlanPoint, planGridPoint } from '../../acoustics/index.ts'
import { mapPartHz, planMapGrid } from '../../engine/questions/plan/plan-map-grid.ts'
import type { MapPart, PlanAnswer } from '../../engine/questions/plan/plan-terms.ts'
import { heardBands } from '../../engine/scene/third-octaves.ts'
import { placedCabinets } from '../../state/plan-faults.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { tapeText } from '../../words/lengths.ts'
import { quieterWords, signedLevelText } from '../../words/levels.ts'
import { toldPlaces } from './describe-plan.ts'
import * as say from './map.messages.ts'
import type { FloorMap, FloorQuestion } from './plan-floor-map.ts'

// The map in words, and its twin as a table.

/** Nearer to a box than this its own sound is what counts, m. */
const besideBoxM = 1

export const partName = (part: MapPart): string =>
  typeof part === 'number'
    ? say.bandName({ frequency: frequencyText(part) })
    : { bass: say.bassName, middle: say.middleName, treble: say.trebleName }[part]()

export const mainName = (plan: Plan): string => plan.places.find(({ id }) => id === plan.mainPlace)?.name ?? ''

/** The loudest and the quietest place of a map that lie a metre or more off every box; undefined where there is none. */
export function extremesOf(
  map: FloorMap,
  question: FloorQuestion,
  plan: Plan,
  known: PlanKnown,
): { loudest: PlanPoint & { levelDb: number }; quietest: PlanPoint & { levelDb: number } } | undefined {
  const grid = planMapGrid({ ...question, columns: map.columns, rows: map.rows })
  const boxes = placedCabinets(plan, known)
  const open = Array.from(map.levelDb, (levelDb, cell) => {
    const { xM, zM } = planGridPoint(grid, cell % map.columns, Math.floor(cell / map.columns))
    return { xM, zM, levelDb, isIn: map.inside[cell] === 1 }
  }).filter((place) => !place.isIn && boxes.every((box) => distanceToFootprintM(box, place) >= besideBoxM))
  const [first] = open
  if (!first) return undefined
  return {
    loudest: open.reduce((best, next) => (next.levelDb > best.levelDb ? next : best), first),
    quietest: open.reduce((best, next) => (next.levelDb < best.levelDb ? next : best), first),
  }
}

/** Where it is loudest and where quietest. */
export function mapSentence(
  map: FloorMap,
  question: FloorQuestion,
  plan: Plan,
  known: PlanKnown,
  units: LengthUnit,
): string {
  const found = extremesOf(map, question, plan, known)
  if (!found) return ''
  const { loudest, quietest } = found
  const aside = ({ xM }: PlanPoint) => tapeText(Math.abs(xM), units)
  return say.loudest({
    part: partName(question.part),
    main: mainName(plan),
    aside: aside(loudest),
    left: loudest.xM < 0,
    ahead: tapeText(loudest.zM, units),
    hall: plan.ground.kind === 'hall',
    level: quieterWords(loudest.levelDb),
    quietAside: aside(quietest),
    quietLeft: quietest.xM < 0,
    quietAhead: tapeText(quietest.zM, units),
    quietLevel: quieterWords(quietest.levelDb),
  })
}

/** The level of a part of the spectrum at each place against the main one. */
export function mapRows(answer: PlanAnswer, plan: Plan, part: MapPart): string[][] {
  const places = toldPlaces(answer, plan)
  const main = places.find(({ id }) => id === plan.mainPlace)
  const { from } = mapPartHz(part)
  const band = heardBands.findIndex(({ nominalHz }) => nominalHz === from)
  return places.map(({ name, reMain, levelsDb }) => {
    const levels = { bass: reMain.bassDb, middle: reMain.middleDb, treble: reMain.trebleDb }
    const alone = () => (levelsDb[band] as number) - (main?.levelsDb[band] as number)
    return [name, signedLevelText(typeof part === 'number' ? alone() : levels[part])]
  })
}
