import { lineAt, type PatternPoint } from './loudness-pattern.ts'

/** Where a line's name stands: a point of the chart, what of the text stands there, and pixels up (negative) or down. */
export type NamePlace = { x: number; y: number; anchor: 'start' | 'middle'; shift: number }

/** Part of the scale that a name in the middle covers, Bark. */
const middle = { from: 6, at: 11.5, to: 17 } as const
const above = -10
const below = 20

/**
 * Where the names of both lines stand so that each is next to its own.
 *
 * @param topValue   upper end of the value axis
 * @param besideBass  whether the other line's name stands beside its bass, which is then the higher one there
 */
export function namePlaces(
  front: PatternPoint[],
  behind: PatternPoint[],
  topValue: number,
  besideBass: boolean,
): { front: NamePlace; behind: NamePlace } {
  if (besideBass)
    return {
      front: { x: 16.5, y: Math.max(...heights(front, 12, 21)), anchor: 'middle', shift: above },
      behind: { x: 3, y: lineAt(behind, 1.5), anchor: 'start', shift: 4 },
    }
  const frontIsHigher = mean(heights(front)) >= mean(heights(behind))
  const [upper, lower] = frontIsHigher ? [front, behind] : [behind, front]
  const least = Math.min(...heights(lower))
  const upperPlace = inMiddle(Math.max(...heights(upper)), above)
  // Too near the axis for a name under it: then just over it.
  const lowerPlace =
    least < 0.2 * topValue ? { ...inMiddle(Math.max(...heights(lower, 8, 21)), above), x: 14 } : inMiddle(least, below)
  return frontIsHigher ? { front: upperPlace, behind: lowerPlace } : { front: lowerPlace, behind: upperPlace }
}

const inMiddle = (y: number, shift: number): NamePlace => ({ x: middle.at, y, anchor: 'middle', shift })

const heights = (line: PatternPoint[], from: number = middle.from, to: number = middle.to): number[] =>
  line.filter(({ x }) => x >= from && x <= to).map(({ y }) => y)

const mean = (values: number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length
