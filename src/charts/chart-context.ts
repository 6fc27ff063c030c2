import { getContext, setContext } from 'svelte'
import type { Scale } from './scale.ts'

/** What a chart gives its layers: its scales and its inner size in pixels. Getters, so that layers follow a resize. */
export type ChartContext = {
  readonly x: Scale
  readonly y: Scale
  readonly width: number
  readonly height: number
}

const key = Symbol('chart')

export const provideChart = (context: ChartContext): ChartContext => setContext(key, context)
export const useChart = (): ChartContext => getContext<ChartContext>(key)
