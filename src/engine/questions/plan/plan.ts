import { aWeightingDb, cWeightingDb, groupLevelDb, weightedLevelDb } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { exposureAt } from '../../scene/exposure-at.ts'
import { type Heard, heard } from '../../scene/heard.ts'
import { loudestDbA, quietestDbA } from '../../scene/scene-terms.ts'
import { bassHz, heardBands, middleHz, trebleHz } from '../../scene/third-octaves.ts'
import { cabinetAt } from './plan-boxes.ts'
import { crowdTaken } from './plan-crowd.ts'
import { planDips } from './plan-dips.ts'
import { differenceDb } from './plan-gain.ts'
import { coarseDetail, type PlanScene, planScene } from './plan-scene.ts'
import { bandLevelsOf, planMeanSquares, pointOf } from './plan-sound.ts'
import type { ListenedPlace, PlaceLevels, PlanAnswer, PlanQuestion } from './plan-terms.ts'

const group = (levels: ArrayLike<number>, { from, to }: { from: number; to: number }) =>
  groupLevelDb(levels, heardBands, from, to)

/** Levels of bass, middle and treble, and the A-weighted one. */
const groupsOf = (levels: ArrayLike<number>) => ({
  bassDb: group(levels, bassHz),
  middleDb: group(levels, middleHz),
  trebleDb: group(levels, trebleHz),
  aWeightedDb: weightedLevelDb(levels, heardBands, aWeightingDb),
})

/** Highest third-octave level that the loudness method takes, dB re 20 µPa. */
const highestBandDb = 120

function heardOrNot(levels: readonly number[], field: 'free' | 'diffuse'): Heard | null {
  return Math.max(...levels) > highestBandDb ? null : heard(Float64Array.from(levels), field).heard
}

/** The levels of every place, and what they are worked out from. */
function levelsOf(question: PlanQuestion, scene: PlanScene) {
  const { places, mainPlace, programmeDbA, cabinets } = question
  requireInRange('cabinets.length', cabinets.length, { min: 1 })
  requireInRange('programmeDbA', programmeDbA, { min: quietestDbA, max: loudestDbA, unit: 'dB(A)' })
  const mainIndex = places.findIndex(({ id }) => id === mainPlace)
  requireInRange('index of the main place', mainIndex, { min: 0 })
  for (const place of places) {
    const around = cabinetAt(question, place)
    if (around)
      throw new RangeError(`the place ${place.id} is inside the box ${around.id}; allowed is any place outside it`)
  }
  const squares = planMeanSquares(question, scene, places)
  const levels = squares.map((each) => bandLevelsOf(scene.lines, each))
  const main = groupsOf(levels[mainIndex] as Float64Array)
  const liftDb = programmeDbA - main.aWeightedDb
  return {
    squares,
    liftDb,
    places: places.map((place, index): PlaceLevels => {
      const lifted = (levels[index] as Float64Array).map((level) => level + liftDb)
      const groups = groupsOf(lifted)
      const { aWeightedDb } = groups
      const own = groupsOf(levels[index] as Float64Array)
      const crowd = question.crowd ? crowdTaken(question, pointOf(place)) : undefined
      return {
        id: place.id,
        levelsDb: Array.from(lifted),
        ...groups,
        cWeightedDb: weightedLevelDb(lifted, heardBands, cWeightingDb),
        reMain: {
          bassDb: differenceDb(own.bassDb, main.bassDb),
          middleDb: differenceDb(own.middleDb, main.middleDb),
          trebleDb: differenceDb(own.trebleDb, main.trebleDb),
          aWeightedDb: own.aWeightedDb - main.aWeightedDb,
        },
        exposure: exposureAt({ aWeightedDb } as Heard),
        ...(crowd && { crowd }),
      }
    }),
  }
}

/**
 * Who gets what: the levels of pink noise at every place of a plan, as loud at the main place as the programme is.
 *
 * @throws RangeError for a plan without a box that plays, a main place that is none of the places, a level out of range, a place inside
 *         a box or outside the hall
 */
export function planAnswer(question: PlanQuestion): PlanAnswer {
  const scene = planScene(question)
  const { squares, liftDb, places } = levelsOf(question, scene)
  return {
    liftDb,
    joiningHz: scene.hall?.joiningHz ?? null,
    places: places.map((place, index) => ({
      ...place,
      heard: heardOrNot(place.levelsDb, scene.hall ? 'diffuse' : 'free'),
      dips: planDips(question, scene, question.places[index] as ListenedPlace, squares[index] as Float64Array),
    })),
  }
}

/**
 * The levels alone and coarsely, from a fifth of the lines: a first answer while something is dragged.
 *
 * @throws RangeError as planAnswer
 * Accuracy: bass, middle and treble against the main place within 1 dB of planAnswer’s in the demo hall, 0.5 dB r.m.s. (test).
 */
export const planLevels = (question: PlanQuestion): { places: PlaceLevels[] } => {
  const { places } = levelsOf(question, planScene(question, coarseDetail))
  return { places }
}
