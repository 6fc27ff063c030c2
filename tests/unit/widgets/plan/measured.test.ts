import { expect, test } from 'vitest'
import type { ComparedBand } from '../../../../src/acoustics/index.ts'
import { measuredRows, nearnessWords } from '../../../../src/widgets/plan/describe-measured.ts'

/** Front less behind, as a test has it; null where nothing was measured. */
const band = (nominalHz: number, frontLessBehindDb: number | null): ComparedBand => ({
  nominalHz,
  standing: { front: null, behind: null },
  levels: null,
  difference: frontLessBehindDb === null ? null : { levelDb: frontLessBehindDb, errorDb: 0.4, freedom: 10 },
})
const bands = [band(50, null), band(63, 2), band(80, 3), band(100, 10)]
/** Rear less front. */
const predicted = [0, -2, -4, -6]

test('what was measured and what is predicted are told in the same direction, and how far they are apart', () => {
  // Measured rear less front: −2, −3, −10. Off by 0, 1 and 4 dB: 5/3 on average.
  expect(nearnessWords(bands, predicted)).toBe(
    'Measured and predicted are 1.7 dB apart on average over 3 third octaves from 63 Hz to 100 Hz; farthest at 100 Hz, where it was measured 4 dB less than predicted.',
  )
  expect(measuredRows(bands, predicted)).toEqual([
    ['50 Hz', '–', '0.0'],
    ['63 Hz', '−2.0', '−2.0'],
    ['80 Hz', '−3.0', '−4.0'],
    ['100 Hz', '−10.0', '−6.0'],
  ])
})

test('without a band that was measured at both places it says so', () => {
  expect(nearnessWords([band(63, null)], [0])).toMatch(/^Nothing was measured/)
})
