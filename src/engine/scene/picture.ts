import type { PlanLevels, PlanPressure } from '../../acoustics/index.ts'

/** A picture of the plan: waves at one frequency, or levels. Index = row × columns + column, as in its grid; `inside` is 1 where nobody can be. */
export type Picture =
  | ({ kind: 'waves'; columns: number; rows: number } & PlanPressure)
  | ({ kind: 'levels'; columns: number; rows: number } & PlanLevels)
