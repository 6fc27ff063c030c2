import { ticks } from 'd3-array'

/** A mapping between values of one axis and places along it, px. */
export type Scale = {
  /** The place of a value, px; beyond the ends it goes on. */
  (value: number): number
  /** The value at a place. */
  invert(px: number): number
  /** The values at both ends. */
  domain(): readonly [number, number]
  /** About so many round values between the ends; of a logarithmic axis the axis itself knows which. */
  ticks(count: number): number[]
}

/** A scale that is straight in `forth(value)`. */
function scaleOf(
  domain: readonly [number, number],
  [startPx, endPx]: readonly [number, number],
  forth: (value: number) => number,
  back: (along: number) => number,
): Scale {
  const [start, end] = [forth(domain[0]), forth(domain[1])]
  const place = (value: number): number => startPx + ((endPx - startPx) * (forth(value) - start)) / (end - start)
  return Object.assign(place, {
    invert: (px: number): number => back(start + ((end - start) * (px - startPx)) / (endPx - startPx)),
    domain: () => domain,
    ticks: (count: number): number[] => ticks(domain[0], domain[1], count),
  })
}

const same = (value: number): number => value

/** Equal differences take equal room. */
export const linearScale = (domain: readonly [number, number], rangePx: readonly [number, number]): Scale =>
  scaleOf(domain, rangePx, same, same)

/** Equal ratios take equal room; both ends of the domain are above 0. */
export const logScale = (domain: readonly [number, number], rangePx: readonly [number, number]): Scale =>
  scaleOf(domain, rangePx, Math.log, Math.exp)
