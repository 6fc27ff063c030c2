import { type PlanGrid, type PlanLevels, planLevelReFrontDb } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { wallField } from './wall-arrivals.ts'
import { type WallScene, wallChartHz, wallPlanM } from './wall-terms.ts'

/** Cells of the picture, across the axis and along it. */
const planCells = { across: 41, along: 81 }

/** Levels re free air in front at the same distance; index = row × columns + column, rows from the wall forward. */
export type WallPicture = { columns: number; rows: number } & PlanLevels

/** The plan's levels at one frequency. Without a side wall both sides are alike and only one is computed. */
export function wallPicture(question: WallScene & { frequencyHz: number }): WallPicture {
  const { frequencyHz, surroundings } = question
  requireInRange('frequencyHz', frequencyHz, { ...wallChartHz, unit: 'Hz' })
  const { free, walled, wallZM } = wallField(question)
  const { across, along } = planCells
  const alike = typeof surroundings.sideGapM !== 'number'
  const grid: PlanGrid = {
    xMinM: alike ? 0 : -wallPlanM.halfWidth,
    xMaxM: wallPlanM.halfWidth,
    zMinM: wallZM,
    zMaxM: wallZM + wallPlanM.forward,
    columns: alike ? (across + 1) / 2 : across,
    rows: along,
    heightM: earHeightM,
  }
  const line = {
    index: 0,
    nominalHz: frequencyHz,
    centreHz: frequencyHz,
    lowerHz: frequencyHz * 0.999,
    upperHz: frequencyHz * 1.001,
  }
  const levels = planLevelReFrontDb(walled, grid, line, { linesPerBand: 1, reference: free }) as PlanLevels
  if (!alike) return { columns: across, rows: along, ...levels }
  const half = grid.columns - 1
  const levelDb = new Float32Array(across * along)
  const inside = new Uint8Array(across * along)
  for (let row = 0; row < along; row++) {
    for (let column = 0; column < across; column++) {
      const from = row * grid.columns + Math.abs(column - half)
      levelDb[row * across + column] = levels.levelDb[from] as number
      inside[row * across + column] = levels.inside[from] as number
    }
  }
  return { columns: across, rows: along, levelDb, inside }
}
