import type { PlaceAnswer, PlanAnswer } from './plan-terms.ts'

/** A difference of two levels, dB; 0 where nothing plays at either: what has no level differs from nothing. */
export const differenceDb = (levelDb: number, fromDb: number): number => (levelDb === fromDb ? 0 : levelDb - fromDb)

/** What a change of a plan does: bass at the place that it is for, and what it does everywhere else. */
export type PlanGain = {
  /** How much less bass there is at the chosen place, dB; negative if there is more. */
  gainDb: number
  /** The change at every other place, dB: the main one, where bass is wanted, first. */
  elsewhere: { id: string; bassDb: number; trebleDb: number }[]
  /** The gain less the greatest harm: bass that the main place loses, or that another place gets more of. */
  scoreDb: number
}

/** From here on a change is worth its trouble, dB of scoreDb. */
export const worthwhileDb = 2

/**
 * What came of a change, from the answers before and after it, both at the same programme level.
 *
 * @throws RangeError if one of the answers lacks the place
 */
export function planGain(before: PlanAnswer, after: PlanAnswer, placeId: string, mainId: string): PlanGain {
  const at = (answer: PlanAnswer, id: string): PlaceAnswer => {
    const place = answer.places.find((each) => each.id === id)
    if (!place)
      throw new RangeError(`place is ${id}; allowed is one of ${answer.places.map((each) => each.id).join(', ')}`)
    return place
  }
  const gainDb = differenceDb(at(before, placeId).bassDb, at(after, placeId).bassDb)
  const others = before.places
    .filter(({ id }) => id !== placeId)
    .sort((a, b) => Number(b.id === mainId) - Number(a.id === mainId))
  const elsewhere = others.map(({ id, bassDb, trebleDb }) => ({
    id,
    bassDb: differenceDb(at(after, id).bassDb, bassDb),
    trebleDb: differenceDb(at(after, id).trebleDb, trebleDb),
  }))
  const harms = elsewhere.map(({ id, bassDb }) => (id === mainId ? -bassDb : bassDb))
  return { gainDb, elsewhere, scoreDb: gainDb - Math.max(0, ...harms) }
}
