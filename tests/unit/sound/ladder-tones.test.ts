import { expect, test } from 'vitest'
import { ceilingDb } from '../../../src/sound/ceiling.ts'
import { ladderFadeS, ladderFrequenciesHz, ladderPeakDb, ladderToneS } from '../../../src/sound/ladder-tones.ts'

test('lower tones are stronger by half of what the A weighting takes from them', () => {
  // −34.6 dB at 40 Hz: IEC 61672-1, Table 3, rounded to 0.1 dB at the nominal frequency.
  expect(ladderPeakDb(40)).toBeCloseTo(-30 + 34.6 / 2, 0)
  expect(ladderPeakDb(1000)).toBe(-30)
  const peaks = ladderFrequenciesHz.map(ladderPeakDb)
  expect(peaks).toEqual(peaks.toSorted((a, b) => b - a))
})

test('every tone stays 10 dB below the ceiling and has time for both fades', () => {
  for (const frequencyHz of ladderFrequenciesHz) expect(ladderPeakDb(frequencyHz)).toBeLessThan(ceilingDb - 10)
  expect(ladderToneS).toBeGreaterThan(2 * ladderFadeS)
})

test('tones off the ladder are refused', () => {
  for (const frequencyHz of [39, 1001, Number.NaN]) expect(() => ladderPeakDb(frequencyHz)).toThrow(RangeError)
})
