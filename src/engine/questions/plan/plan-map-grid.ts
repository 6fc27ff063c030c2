import type { PlanGrid } from '../../../acoustics/index.ts'
import { bassHz, middleHz, trebleHz } from '../../scene/third-octaves.ts'
import type { MapPart, PlanMapQuestion } from './plan-terms.ts'

// What a map of a plan is of, and where its places are; apart from what computes it, which pages do without.

/** Nominal mid-band frequencies, from and to, of what a map is of. */
export const mapPartHz = (part: MapPart): { from: number; to: number } =>
  typeof part === 'number' ? { from: part, to: part } : { bass: bassHz, middle: middleHz, treble: trebleHz }[part]

/** How far the outermost places lie off the edge of the floor, m. */
const mapInsetM = 0.05

/** The places of a map. */
export const planMapGrid = ({
  floor: { widthM, lengthM },
  heightM,
  columns,
  rows,
}: Pick<PlanMapQuestion, 'floor' | 'heightM' | 'columns' | 'rows'>): PlanGrid => ({
  xMinM: -widthM / 2 + mapInsetM,
  xMaxM: widthM / 2 - mapInsetM,
  zMinM: mapInsetM,
  zMaxM: lengthM - mapInsetM,
  columns,
  rows,
  heightM,
})
