import { allowedExposureH } from '../../../src/acoustics/hearing/exposure.ts'
import type { CheckGroup } from '../check.ts'

/** Rows of Table 1-1 as printed, in seconds. */
const printedS: [levelDbA: number, seconds: number][] = [
  [80, 25 * 3600 + 24 * 60],
  [85, 8 * 3600],
  [88, 4 * 3600],
  [91, 2 * 3600],
  [94, 3600],
  [95, 47 * 60 + 37],
  [97, 30 * 60],
  [100, 15 * 60],
  [120, 9],
]

/** The longest time a day at a level against the printed table. */
export const exposureChecks: CheckGroup = {
  title: 'Longest time at a level',
  checks: printedS.map(([levelDbA, seconds]) => ({
    id: `exposure-${levelDbA}`,
    kind: 'outside',
    quantity: `Longest time a day at ${levelDbA} dB(A)`,
    unit: 's',
    source: 'niosh-98-126',
    place: 'Table 1-1',
    input: `${levelDbA} dB(A)`,
    expected: seconds,
    tolerance: levelDbA === 80 ? 60 : 1,
    toleranceReason: levelDbA === 80 ? 'this row is printed to the minute' : 'printed to the second',
    computed: () => 3600 * allowedExposureH(levelDbA),
  })),
}
