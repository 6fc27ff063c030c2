import type { NeighbourAnswer, PlanAnswer } from '../../engine/questions/plan/plan-terms.ts'

/** What is told of a step: levels at each place by its id, dB, and at the neighbour, dB(C). */
export type EveningLevels = {
  places: Record<string, { bassDb: number; trebleDb: number; aWeightedDb: number }>
  outsideDbC: number
}

/** To a hundredth of a decibel: the page then carries less text. */
const hundredths = (value: number) => Number(value.toFixed(2))

export const eveningLevels = ({ places }: PlanAnswer, { cWeightedDb }: NeighbourAnswer): EveningLevels => ({
  places: Object.fromEntries(
    places.map(({ id, bassDb, trebleDb, aWeightedDb }) => [
      id,
      { bassDb: hundredths(bassDb), trebleDb: hundredths(trebleDb), aWeightedDb: hundredths(aWeightedDb) },
    ]),
  ),
  outsideDbC: hundredths(cWeightedDb),
})
