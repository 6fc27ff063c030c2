import { decibels, type Fact, factsBy, metres, needed } from '../fact.ts'
import { planAnswer } from './plan.ts'
import { planNeighbour } from './plan-neighbour.ts'
import type { NeighbourQuestion, PlanAnswer, PlanQuestion } from './plan-terms.ts'

/** The steps of which the words tell what they alone do at the table. */
const toldSteps = ['subs', 'steer'] as const
type ToldStep = (typeof toldSteps)[number]

/** What the guess chooses from. */
type SetUpName = 'down' | 'pair' | 'table'

/** What lesson 10 speaks of: an evening decided in steps, and what its guess chooses from. */
export type EveningFacts = {
  /** The plan after each step, in their order; the first is the usual one. */
  steps: Record<ToldStep, PlanQuestion> & Record<string, PlanQuestion>
  /** The usual plan with one change. */
  setUps: Record<SetUpName, PlanQuestion>
  /** Before the first step and after the last one, with the neighbour. */
  neighbours: { first: NeighbourQuestion; last: NeighbourQuestion }
  places: { floor: string; table: string; band: string }
  /** What the words say is done. */
  done: {
    tableM: number
    upDb: number
    downDb: number
  }
}

const bassDbAt = ({ places }: PlanAnswer, placeId: string): number =>
  needed(
    places.find(({ id }) => id === placeId),
    `the place ${placeId}`,
  ).bassDb

/** How much less bass a set-up leaves at the table and on the floor than the usual plan does, dB. */
export type SetUpDrop = { tableDb: number; floorDb: number }

/** The same of every set-up that the guess chooses from. */
export function setUpDrops({ steps, setUps, places: { floor, table } }: EveningFacts): Record<SetUpName, SetUpDrop> {
  const usual = planAnswer(needed(Object.values(steps)[0], 'a first step'))
  const dropOf = (question: PlanQuestion): SetUpDrop => {
    const answer = planAnswer(question)
    const less = (place: string) => bassDbAt(usual, place) - bassDbAt(answer, place)
    return { tableDb: less(table), floorDb: less(floor) }
  }
  return { down: dropOf(setUps.down), pair: dropOf(setUps.pair), table: dropOf(setUps.table) }
}

/**
 * How much less bass the told steps leave at the table, against the step before each, what came of all steps together, and the same of the
 * set-ups of the guess against the usual plan.
 */
export function planFacts(evening: EveningFacts) {
  const { steps, neighbours, done } = evening
  const { floor, table, band } = evening.places
  const names = Object.keys(steps)
  const answers = names.map((step) => planAnswer(steps[step] as PlanQuestion))
  const first = needed(answers[0], 'a first step')
  const last = needed(answers.at(-1), 'a last step')
  const stepFacts = factsBy(
    toldSteps.map((step): [`table-${ToldStep}`, Fact] => {
      const at = names.indexOf(step)
      const [before, after] = [needed(answers[at - 1], 'a step before'), needed(answers[at], step)]
      return [`table-${step}`, decibels(bassDbAt(before, table) - bassDbAt(after, table))]
    }),
  )
  const { down, pair, table: moved } = setUpDrops(evening)
  const inAll = (place: string) => decibels(bassDbAt(first, place) - bassDbAt(last, place))
  return {
    ...stepFacts,
    'guess-down-table': decibels(down.tableDb),
    'guess-down-floor': decibels(down.floorDb),
    'guess-pair-table': decibels(pair.tableDb),
    'guess-pair-floor': decibels(pair.floorDb),
    'guess-table-table': decibels(moved.tableDb),
    'table-over': decibels(bassDbAt(first, table) - bassDbAt(first, floor)),
    'table-all': inAll(table),
    'floor-all': inAll(floor),
    'band-all': inAll(band),
    'cottage-all': decibels(planNeighbour(neighbours.first).cWeightedDb - planNeighbour(neighbours.last).cWeightedDb),
    'moved-table': metres(done.tableM),
    up: decibels(done.upDb),
    down: decibels(done.downDb),
  }
}
