import { aWeightingDb, cWeightingDb, groupLevelDb, weightedLevelDb } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { exposureAt } from '../../scene/exposure-at.ts'
import { type Heard, heard } from '../../scene/heard.ts'
import { loudestDbA, quietestDbA } from '../../scene/scene-terms.ts'
import { bassHz, heardBands, middleHz, trebleHz } from '../../scene/third-octaves.ts'
import { cabinetAt } from './plan-boxes.ts'
import { planDips } from './plan-dips.ts'
import { planScene } from './plan-scene.ts'
import { bandLevelsOf, planMeanSquares } from './plan-sound.ts'
import type { PlaceAnswer, PlanAnswer, PlanQuestion } from './plan-terms.ts'

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

function heardOrNot(levels: Float64Array, field: 'free' | 'diffuse'): Heard | null {
  return Math.max(...levels) > highestBandDb ? null : heard(levels, field).heard
}

/**
 * Who gets what: the levels of pink noise at every place of a plan, as loud at the main place as the programme is.
 *
 * @throws RangeError for a plan without a box that plays, a main place that is none of the places, a level out of range, a place inside
 *         a box or outside the hall
 */
export function planAnswer(question: PlanQuestion): PlanAnswer {
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
  const scene = planScene(question)
  const squares = planMeanSquares(question, scene, places)
  const levels = squares.map((each) => bandLevelsOf(scene.lines, each))
  const main = groupsOf(levels[mainIndex] as Float64Array)
  const liftDb = programmeDbA - main.aWeightedDb
  return {
    liftDb,
    joiningHz: scene.hall?.joiningHz ?? null,
    places: places.map((place, index): PlaceAnswer => {
      const lifted = (levels[index] as Float64Array).map((level) => level + liftDb)
      const groups = groupsOf(lifted)
      const { aWeightedDb } = groups
      return {
        id: place.id,
        levelsDb: Array.from(lifted),
        ...groups,
        heard: heardOrNot(lifted, scene.hall ? 'diffuse' : 'free'),
        cWeightedDb: weightedLevelDb(lifted, heardBands, cWeightingDb),
        reMain: {
          bassDb: groups.bassDb - main.bassDb - liftDb,
          middleDb: groups.middleDb - main.middleDb - liftDb,
          trebleDb: groups.trebleDb - main.trebleDb - liftDb,
          aWeightedDb: aWeightedDb - programmeDbA,
        },
        dips: planDips(question, scene, place, squares[index] as Float64Array),
        exposure: exposureAt({ aWeightedDb } as Heard),
      }
    }),
  }
}
