import { groupLevelDb } from '../../../acoustics/index.ts'
import { bassHz, heardBands } from '../../scene/third-octaves.ts'
import { cabinetAt } from './plan-boxes.ts'
import { planScene } from './plan-scene.ts'
import { bandLevelsOf, planMeanSquares } from './plan-sound.ts'
import type { ListenedPlace, PlanQuestion } from './plan-terms.ts'

// What makes the bass at one place of a plan: which box, whether they add or cancel there, and what it is a step aside.

export type HintQuestion = PlanQuestion & { placeId: string }

export type PlanHint = {
  /** The boxes by how much bass each alone would make there, the loudest first; how far it is under all together, dB. */
  boxes: { id: string; aloneDb: number }[]
  /** All together against the sum of their energies, dB: above nought they add in step, below they cancel. */
  inStepDb: number
  /** The place a step away with the least bass, and with the most, against here, dB; null where no step is free. */
  least: { xM: number; zM: number; byDb: number } | null
  most: { xM: number; zM: number; byDb: number } | null
}

/** How far a step aside is, m. */
export const hintStepM = 1.5

const steps = [
  { xM: hintStepM, zM: 0 },
  { xM: -hintStepM, zM: 0 },
  { xM: 0, zM: hintStepM },
  { xM: 0, zM: -hintStepM },
]

/**
 * What makes the bass at a place. Boxes that stand in step at one frequency cancel at the next: what is told is of the bass as a whole.
 *
 * @throws RangeError for a place that is none of the plan's, or as planAnswer
 */
export function planHint(question: HintQuestion): PlanHint {
  const place = question.places.find(({ id }) => id === question.placeId)
  if (!place)
    throw new RangeError(
      `placeId is ${question.placeId}; allowed is one of ${question.places.map(({ id }) => id).join(', ')}`,
    )
  const scene = planScene(question)
  const bassOf = (squares: Float64Array) =>
    groupLevelDb(bandLevelsOf(scene.lines, squares), heardBands, bassHz.from, bassHz.to)
  const free = steps
    .map((step): ListenedPlace => ({ ...place, xM: place.xM + step.xM, zM: place.zM + step.zM }))
    .filter((spot) => isFree(question, spot))
  const [hereDb = 0, ...thereDb] = planMeanSquares(question, scene, [place, ...free]).map(bassOf)
  const spots = free
    .map(({ xM, zM }, index) => ({ xM, zM, byDb: (thereDb[index] as number) - hereDb }))
    .sort((a, b) => a.byDb - b.byDb)
  const alone = question.cabinets.map((cabinet) => {
    const [squares] = planMeanSquares({ ...question, cabinets: [cabinet] }, scene, [place])
    return { id: cabinet.id, db: bassOf(squares as Float64Array) }
  })
  const energy = alone.reduce((sum, { db }) => sum + 10 ** (db / 10), 0)
  return {
    boxes: alone.map(({ id, db }) => ({ id, aloneDb: db - hereDb })).sort((a, b) => b.aloneDb - a.aloneDb),
    inStepDb: hereDb - 10 * Math.log10(energy),
    least: spots[0] ?? null,
    most: spots.at(-1) ?? null,
  }
}

/** How near to a wall a step may lead, m: nobody sits closer. */
const offWallM = 0.5

function isFree(question: PlanQuestion, spot: ListenedPlace): boolean {
  if (cabinetAt(question, spot)) return false
  if (question.surroundings.kind !== 'hall') return true
  const { lengthM, widthM } = question.surroundings.design
  return Math.abs(spot.xM) <= widthM / 2 - offWallM && spot.zM >= offWallM && spot.zM <= lengthM - offWallM
}
