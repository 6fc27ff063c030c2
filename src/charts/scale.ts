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

/** Multiples of 1, 2 or 5 times a power of ten between two values, about so many. */
function roundValues([low, high]: readonly [number, number], count: number): number[] {
  const wanted = (high - low) / count
  const ten = 10 ** Math.floor(Math.log10(wanted))
  // Geometric means of neighbours: the nearer of the two in proportion wins.
  const step =
    ten * (wanted < Math.sqrt(2) * ten ? 1 : wanted < Math.sqrt(10) * ten ? 2 : wanted < Math.sqrt(50) * ten ? 5 : 10)
  const [first, last] = [Math.ceil(low / step - 1e-9), Math.floor(high / step + 1e-9)]
  // Steps below 1 by division: 3 × 0.1 would be 0.30000000000000004.
  const place = (n: number): number => (step < 1 ? n / Math.round(1 / step) : n * step)
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => place(first + index))
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
    ticks: (count: number): number[] => roundValues(domain, count),
  })
}

const same = (value: number): number => value

/** Equal differences take equal room. */
export const linearScale = (domain: readonly [number, number], rangePx: readonly [number, number]): Scale =>
  scaleOf(domain, rangePx, same, same)

/** Equal ratios take equal room; both ends of the domain are above 0. */
export const logScale = (domain: readonly [number, number], rangePx: readonly [number, number]): Scale =>
  scaleOf(domain, rangePx, Math.log, Math.exp)
