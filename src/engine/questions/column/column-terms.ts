import type { Point } from '../../../acoustics/point.ts'
import type { DriverLine } from '../../../acoustics/radiation/driver-line.ts'
import { equalGirthRadiusM } from '../../../acoustics/radiation/driver-line.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { bandsBetween } from '../../scene/third-octaves.ts'

// The terms that the column's figure shares with its calculation, without fetching the calculation itself.

const degree = Math.PI / 180

/** Outer size of every column here, m: that of the demo column. Its length follows from the row of drivers. */
export const columnBox = { widthM: 0.11, depthM: 0.12 } as const

/** Largest driver that the box takes, m; in a close row the drivers are smaller, so that they fit. */
const largestDriverRadiusM = 0.032

/** The third octaves that can be asked for. */
export const columnBands = bandsBetween(63, 8000)

/** The bass that every sentence sets against the chosen frequency, and the direction above the axis that it names. */
export const columnBassHz = 100
export const aboveDeg = 30

/** From this third octave on, Hz, what goes beside and behind is an estimate: below it the model is within 1.5 dB of a solved box. */
export const columnEstimateFromHz = 1250

/** Ears of a seated listener, m (common practice, no source). */
export const seatedEarM = 1.2

/** A column that stands upright or leans forward about the middle of its front. */
export type Column = {
  count: number
  spacingM: number
  /** Height of the middle of its front above the floor, m. */
  heightM: number
  /** How far its axis points down, rad. */
  tiltRad: number
}

/** From one end of the row to the other with half a spacing more at each end: the length of the box, and of the line that it acts as. */
export const columnLengthM = ({ count, spacingM }: Pick<Column, 'count' | 'spacingM'>): number => count * spacingM

/** Where the four listeners are. "above" is 30° above the axis, 3 m away, wherever the axis points. */
export const columnPlaceIds = ['seated', 'standing', 'above', 'behind'] as const
export type ColumnPlaceId = (typeof columnPlaceIds)[number]

/** The listeners in the plane of the axis, m: x = 0, y above the floor, z in front of the column. */
export function columnPlaces({ heightM, tiltRad }: Pick<Column, 'heightM' | 'tiltRad'>): Record<ColumnPlaceId, Point> {
  const upRad = aboveDeg * degree - tiltRad
  return {
    seated: { xM: 0, yM: seatedEarM, zM: 2.5 },
    standing: { xM: 0, yM: earHeightM, zM: 4 },
    above: { xM: 0, yM: heightM + 3 * Math.sin(upRad), zM: 3 * Math.cos(upRad) },
    behind: { xM: 0, yM: earHeightM, zM: -2.5 },
  }
}

/** The angles, in degrees from the axis, of every pattern: from straight behind round to straight behind. */
export const patternDeg: number[] = Array.from({ length: 145 }, (_, index) => -180 + 2.5 * index)

/** The row of drivers of a column. */
export const lineOf = ({ count, spacingM }: Pick<Column, 'count' | 'spacingM'>): DriverLine => ({
  count,
  spacingM,
  driverRadiusM: Math.min(largestDriverRadiusM, 0.45 * spacingM),
  columnRadiusM: equalGirthRadiusM(columnBox.widthM, columnBox.depthM),
})

/** A place in the hall (y above the floor) in the column's own coordinates. */
export function inColumn({ heightM, tiltRad }: Pick<Column, 'heightM' | 'tiltRad'>, { xM, yM, zM }: Point): Point {
  const upM = yM - heightM
  const [cos, sin] = [Math.cos(tiltRad), Math.sin(tiltRad)]
  return { xM, yM: zM * sin + upM * cos, zM: zM * cos - upM * sin }
}

/** Distance from the middle of the column's front, m. */
export const fromFrontM = ({ xM, yM, zM }: Point): number => Math.hypot(xM, yM, zM)
