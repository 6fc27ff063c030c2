import type { ColumnGrid } from '../../engine/questions/column/column-picture.ts'
import { type Column, columnLengthM } from '../../engine/questions/column/column-terms.ts'

/** What the two views show, m: the same scale and the same stretch from behind to the front, one below the other. */
export type ColumnExtent = {
  zMinM: number
  zMaxM: number
  /** Height of the side view above the floor, which is also the width of the top view. */
  heightM: number
}

/** Cells of each picture; a wave of 2 kHz is then four cells long beside the demo column. */
const across = 201
const down = 101

/** Height of the side view for a column of ordinary size, m. */
const ordinaryHeightM = 4.2

/** The stretch that shows the whole column and its listeners. */
export function columnExtent(column: Column): ColumnExtent {
  const heightM = Math.max(ordinaryHeightM, 1.08 * (column.heightM + columnLengthM(column) / 2))
  const widthM = (heightM * (across - 1)) / (down - 1)
  return { zMinM: -0.43 * widthM, zMaxM: 0.57 * widthM, heightM }
}

/** The points of the picture in a view. */
export function columnGrid(extent: ColumnExtent, view: 'side' | 'top'): ColumnGrid {
  const { zMinM, zMaxM, heightM } = extent
  const [topM, bottomM] = view === 'side' ? [heightM, 0] : [-heightM / 2, heightM / 2]
  return { zMinM, zMaxM, across, topM, bottomM, down }
}

/** Frequencies that pages may begin with, Hz: each has a still of both views. */
export const columnStillsHz = [1000, 100] as const

/** Name of a view's still at a frequency: 'side-1000'. */
export const columnStillName = (view: 'side' | 'top', frequencyHz: number): string => `${view}-${frequencyHz}`

/** Address of the still of a view that is made at build. */
export const columnStill = (view: 'side' | 'top', frequencyHz: number): string =>
  `/stills/column-${columnStillName(view, frequencyHz)}.png`
