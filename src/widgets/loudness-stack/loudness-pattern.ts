import { loudnessBelowBark } from '../../acoustics/hearing/specific-loudness.ts'
import { bassShareUpToHz, loudnessBark } from '../../acoustics/index.ts'

export type PatternPoint = { x: number; y: number }

/** Where the bass of the bass share ends on the axis, Bark. */
export const bassEndBark = loudnessBark(bassShareUpToHz)

/** Range of the axis, Bark. */
export const barkDomain: [number, number] = [0, 24]

/**
 * A pattern of specific loudness as a line: critical-band rate (Bark) against specific loudness times a factor. The samples
 * stand at 0.1, 0.2 … 24 Bark; a rise is a jump at the lower end of its step, as the loudness method has it.
 */
export function patternLine(specific: ArrayLike<number>, factor = 1): PatternPoint[] {
  const points: PatternPoint[] = [{ x: 0, y: 0 }]
  let before = 0
  for (let index = 0; index < specific.length; index++) {
    const value = (specific[index] ?? 0) * factor
    if (value > before) points.push({ x: index / 10, y: value })
    points.push({ x: (index + 1) / 10, y: value })
    before = value
  }
  return points
}

/** The part of such a line up to a critical-band rate, cut there. */
export function lineBelow(points: PatternPoint[], upToBark: number): PatternPoint[] {
  const next = points.findIndex(({ x }) => x > upToBark)
  if (next < 0) return points
  const [from, to] = [points[next - 1], points[next]]
  if (!from || !to) return []
  const part = (upToBark - from.x) / (to.x - from.x)
  return [...points.slice(0, next), { x: upToBark, y: from.y + part * (to.y - from.y) }]
}

/** The part from a critical-band rate on. */
export function lineAbove(points: PatternPoint[], fromBark: number): PatternPoint[] {
  const cut = lineBelow(points, fromBark).at(-1)
  return cut ? [cut, ...points.filter(({ x }) => x > fromBark)] : points
}

/** Height of such a line at a critical-band rate. */
export const lineAt = (points: PatternPoint[], bark: number): number => lineBelow(points, bark).at(-1)?.y ?? 0

/** Loudness in each whole Bark, sone: 24 numbers whose sum is that of the pattern. */
export function sonesByBark(specific: Float64Array): number[] {
  return Array.from(
    { length: barkDomain[1] },
    (_, bark) => loudnessBelowBark(specific, bark + 1) - loudnessBelowBark(specific, bark),
  )
}
