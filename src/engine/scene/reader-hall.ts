import content from '../../../content/halls/finishes.json' with { type: 'json' }
import { type HallSize, type HallSurface, hallSurfaces } from '../../acoustics/index.ts'
import { requireInRange } from '../../acoustics/numeric-range.ts'
import { finishOf } from './finishes.ts'
import type { HallDesign } from './hall-scene.ts'

/** A hall that a reader has put together: its sides, m, the finish of each surface, and how many people are in it. */
export type ReaderHall = HallSize & { surfaces: Record<HallSurface, string>; people: number }

const { absorption: peopleAbsorption, perM2 } = content.people['audience-chairs-1-per-m2']

/**
 * The hall as the questions take it, people as in the demo hall: their coefficient is that of the floor with them on it, one on each square
 * metre, so that the floor that they cover no longer counts.
 *
 * @throws RangeError for a finish that the list does not have, or more people than the floor has square metres
 */
export function readerHallDesign({ lengthM, widthM, heightM, surfaces, people }: ReaderHall): HallDesign {
  const occupiedM2 = people / perM2
  requireInRange('people', occupiedM2, { min: 0, max: lengthM * widthM, unit: 'm² of floor' })
  const floor = finishOf(surfaces.floor).absorption
  return {
    lengthM,
    widthM,
    heightM,
    frequenciesHz: content.frequenciesHz,
    surfaces: Object.fromEntries(
      hallSurfaces.map((surface) => [surface, finishOf(surfaces[surface]).absorption]),
    ) as HallDesign['surfaces'],
    objectsM2: peopleAbsorption.map((alpha, octave) => occupiedM2 * Math.max(0, alpha - (floor[octave] as number))),
  }
}
