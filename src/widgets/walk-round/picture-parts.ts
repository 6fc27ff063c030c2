import type { PlanGrid } from '../../acoustics/index.ts'
import { earHeightM } from '../../engine/scene/scene-terms.ts'

/** The plan shows this much to every side of the front face, m. */
export const planHalfM = 4.4

/** Cells of a picture across the plan; at 2 kHz a wave is then nearly five cells long. */
export const cellsAcross = 241

/** In a hall every cell is a sum over its resonances: fewer cells, which is enough for levels. */
export const hallCellsAcross = 41

/** The two frequencies of the two-half picture, Hz. */
export const twoBandsHz = { upper: 80, lower: 2000 } as const

/** The pictures that make up the plan, from top to bottom. */
export type PictureParts = { frequencyHz: number; grid: PlanGrid }[]

/** One picture of the whole plan, or a bass half (the rig's left) above a treble half (its right). */
export function pictureParts(bands: 'two' | 'one', frequencyHz: number, cells: number = cellsAcross): PictureParts {
  const across = { zMinM: -planHalfM, zMaxM: planHalfM, rows: cells, heightM: earHeightM }
  if (bands === 'one')
    return [{ frequencyHz, grid: { ...across, xMinM: -planHalfM, xMaxM: planHalfM, columns: cells } }]
  const columns = (cells - 1) / 2
  const lineM = (2 * planHalfM) / (cells - 1)
  return [
    { frequencyHz: twoBandsHz.upper, grid: { ...across, xMinM: -planHalfM, xMaxM: -lineM, columns } },
    { frequencyHz: twoBandsHz.lower, grid: { ...across, xMinM: 0, xMaxM: planHalfM, columns: columns + 1 } },
  ]
}
