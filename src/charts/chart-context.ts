import type { ScaleContinuousNumeric } from 'd3-scale'
import { getContext, setContext } from 'svelte'

/** What a chart gives its layers: its scales and its inner size in pixels. Getters, so that layers follow a resize. */
export type ChartContext = {
  readonly x: ScaleContinuousNumeric<number, number>
  readonly y: ScaleContinuousNumeric<number, number>
  readonly width: number
  readonly height: number
}

const key = Symbol('chart')

export const provideChart = (context: ChartContext): ChartContext => setContext(key, context)
export const useChart = (): ChartContext => getContext<ChartContext>(key)
