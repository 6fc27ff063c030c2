import { describe, expect, test } from 'vitest'
import { ceilingDb } from '../../../src/sound/ceiling.ts'
import { burstFadeS, burstPeaksDb, requireBurst } from '../../../src/sound/tone-bursts.ts'

describe('the peaks of tones that are compared', () => {
  test('keep their differences', () => {
    expect(burstPeaksDb([30, 0, -10], -50)).toEqual({ peaksDb: [-20, -50, -60], loweredDb: 0 })
  })
  test('are lowered alike when the strongest would pass the ceiling', () => {
    const { peaksDb, loweredDb } = burstPeaksDb([45, 0], -30)
    expect(loweredDb).toBe(16)
    expect(peaksDb).toEqual([-1, -46])
  })
  test('never pass the ceiling, whatever rounding does', () => {
    for (let step = 0; step < 500; step++) {
      const { peaksDb } = burstPeaksDb([0.1 * step, 0, 0.07 * step], -20 + 0.013 * step)
      for (const peak of peaksDb) expect(peak).toBeLessThanOrEqual(ceilingDb)
    }
  })
  test('are refused by name when a level is out of range', () => {
    expect(() => burstPeaksDb([0], 0)).toThrow(
      'volumeDb is 0; allowed is a finite number from -100 to -1 dB re full scale',
    )
    expect(() => burstPeaksDb([0, Number.NaN], -50)).toThrow('relativeDb[1] is NaN')
    expect(() => burstPeaksDb([], -50)).toThrow(RangeError)
  })
})

test('a burst has time for both fades and stays under the ceiling, else it is refused', () => {
  const burst = { frequencyHz: 40, peakDb: ceilingDb, durationS: 2 * burstFadeS, gapS: 0 }
  expect(requireBurst(burst)).toBe(burst)
  for (const change of [
    { frequencyHz: 19 },
    { frequencyHz: 12501 },
    { peakDb: -0.9 },
    { peakDb: Number.NEGATIVE_INFINITY },
    { durationS: 0.1 },
    { gapS: -0.1 },
  ])
    expect(() => requireBurst({ ...burst, ...change })).toThrow(RangeError)
})
