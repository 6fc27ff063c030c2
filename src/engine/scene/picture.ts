import type { PlanLevels, PlanPressure } from '../../acoustics/index.ts'

/**
 * A picture on a grid: waves at one frequency, or levels. One row per z, one column per place across it (x, or a height, from the top down):
 * index = row × columns + column. `inside` is 1 where nobody can be.
 */
export type Picture =
  | ({ kind: 'waves'; columns: number; rows: number } & PlanPressure)
  | ({ kind: 'levels'; columns: number; rows: number } & PlanLevels)
