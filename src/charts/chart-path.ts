import { line } from 'd3-shape'
import type { ChartContext } from './chart-context.ts'

export type ChartPoint = { x: number; y: number }

/** SVG path through points of a chart, in the order given; empty without points. */
export const chartPath = (chart: ChartContext, points: readonly ChartPoint[]): string =>
  line<ChartPoint>()
    .x(({ x }) => chart.x(x))
    .y(({ y }) => chart.y(y))(points as ChartPoint[]) ?? ''
