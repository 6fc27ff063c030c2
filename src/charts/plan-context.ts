import { getContext, setContext } from 'svelte'
import type { PlanPoint } from '../acoustics/index.ts'

/** A rectangle on the floor, m. */
export type PlanExtent = { xMinM: number; xMaxM: number; zMinM: number; zMaxM: number }

/**
 * What a plan gives its layers: forward (+z) points right, the rig's right-hand side (+x) points down. Getters, so that
 * layers follow a resize.
 */
export type PlanContext = {
  /** What the drawing shows, m. */
  readonly extent: PlanExtent
  readonly widthPx: number
  readonly heightPx: number
  readonly pxPerM: number
  /** Screen place of a plan place, px from the left and from the top. */
  readonly left: (zM: number) => number
  readonly top: (xM: number) => number
  /** Plan place of a screen place: the inverse. */
  readonly placeAt: (left: number, top: number) => PlanPoint
}

const key = Symbol('plan')

export const providePlan = (context: PlanContext): PlanContext => setContext(key, context)
export const usePlan = (): PlanContext => getContext<PlanContext>(key)

/** The plan that shows an extent over a width, with a rim all round, px. */
export function planOn(extent: PlanExtent, widthPx: number, rimPx = 0): PlanContext {
  const pxPerM = (widthPx - 2 * rimPx) / (extent.zMaxM - extent.zMinM)
  return {
    extent,
    widthPx,
    heightPx: (extent.xMaxM - extent.xMinM) * pxPerM + 2 * rimPx,
    pxPerM,
    left: (zM) => rimPx + (zM - extent.zMinM) * pxPerM,
    top: (xM) => rimPx + (xM - extent.xMinM) * pxPerM,
    placeAt: (left, top) => ({
      zM: extent.zMinM + (left - rimPx) / pxPerM,
      xM: extent.xMinM + (top - rimPx) / pxPerM,
    }),
  }
}

/** ±halfM round the origin. */
export const squareExtent = (halfM: number): PlanExtent => ({
  xMinM: -halfM,
  xMaxM: halfM,
  zMinM: -halfM,
  zMaxM: halfM,
})

/** Which way words go that stand at a place: inward near the edges, px. */
export const inwardAnchor = (left: number, widthPx: number, edgePx: number): 'start' | 'middle' | 'end' =>
  left < edgePx ? 'start' : left > widthPx - edgePx ? 'end' : 'middle'

/** The rectangle round some places. */
export const extentAround = (places: readonly PlanPoint[]): PlanExtent => ({
  xMinM: Math.min(...places.map(({ xM }) => xM)),
  xMaxM: Math.max(...places.map(({ xM }) => xM)),
  zMinM: Math.min(...places.map(({ zM }) => zM)),
  zMaxM: Math.max(...places.map(({ zM }) => zM)),
})

/** Walls where there is none. */
export const noWalls: PlanExtent = { xMinM: -Infinity, xMaxM: Infinity, zMinM: -Infinity, zMaxM: Infinity }
