import type { ChartContext } from './chart-context.ts'

export type ChartPoint = { x: number; y: number }

/** To a hundredth of a pixel. */
const hundredths = (px: number): number => Math.round(px * 100) / 100

/** SVG path through places, px, by straight lines. */
const through = (places: readonly (readonly [number, number])[]): string =>
  places.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${hundredths(x)},${hundredths(y)}`).join('')

/** SVG path through points of a chart, in the order given; empty without points. */
export const chartPath = (chart: ChartContext, points: readonly ChartPoint[]): string =>
  through(points.map(({ x, y }) => [chart.x(x), chart.y(y)]))

/** SVG path round the area between two lines of a chart over the same abscissas; empty without points. */
export const chartArea = (chart: ChartContext, points: readonly { x: number; from: number; to: number }[]): string =>
  points.length === 0
    ? ''
    : `${through([
        ...points.map(({ x, to }) => [chart.x(x), chart.y(to)] as const),
        ...points.map(({ x, from }) => [chart.x(x), chart.y(from)] as const).reverse(),
      ])}Z`
