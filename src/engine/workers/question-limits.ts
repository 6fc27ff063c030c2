import type { TaskName } from './tasks.ts'

/** How long one question may take before it is given up, s: what a slow phone needs, with room. */
const usualS = 60

/** Questions that solve a whole boundary-element problem, make and analyse three recordings, or transform a whole one, take longer, s. */
const longS: Partial<Record<TaskName, number>> = {
  ownBoxBand: 300,
  solvedLines: 300,
  solvedDirections: 300,
  steerTogetherStep: 300,
  faultAnswer: 300,
  practiceSweepFile: 300,
  sweptResponse: 300,
}

/** How long a worker may be silent over one question, s. */
export const limitS = (task: TaskName): number => longS[task] ?? usualS

/** How long a new worker may take until it says that it is there, s: its code has to be fetched. */
export const readyLimitS = 20

/** Questions whose worker keeps so much of the last one that the next is better asked there than of an idle worker. */
export const keepsMuch: ReadonlySet<TaskName> = new Set(['planAnswer', 'planLevels', 'planNeighbour', 'planMap'])
