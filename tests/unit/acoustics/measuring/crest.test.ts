import { describe, expect, test } from 'vitest'
import { crestDb, leastCrestDb } from '../../../../src/acoustics/measuring/crest.ts'
import { analysed, noise } from './noise.ts'

const sampleRateHz = 48000
const length = 4 * sampleRateHz
const make = (seed: number, gainDb?: (frequencyHz: number) => number) => noise({ length, sampleRateHz, seed }, gainDb)
/** The peaks taken off at so many times the root mean square. */
function limited(samples: Float32Array, times: number): Float32Array {
  const top = times * Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)
  return samples.map((sample) => Math.max(-top, Math.min(top, sample)))
}

describe('the peaks of steady noise', () => {
  test('stand well over the limit in 20 clean recordings, wide and narrow', () => {
    for (let seed = 1; seed <= 10; seed++) {
      expect(crestDb(analysed([make(seed)], sampleRateHz), 0)).toBeGreaterThan(leastCrestDb + 1)
      const narrow = make(seed, (frequencyHz) => (frequencyHz > 100 && frequencyHz < 300 ? 0 : -80))
      expect(crestDb(analysed([narrow], sampleRateHz), 0)).toBeGreaterThan(leastCrestDb)
    }
  })

  test('in a second reach what the largest of n normal values does', () => {
    // White up to 17.5 kHz: n = 2 · 17 500 Hz · 1.365 s = 47 800 independent values a block. Half of all blocks stay below m with
    // 2 n Q(m) = ln 2, Q(m) = 7.25e-6, m = 4.34 from the table of the normal distribution: 12.7 dB. The largest scatters by 0.5 dB.
    const white = noise({ length: 20 * sampleRateHz, sampleRateHz, seed: 3 }, (frequencyHz) =>
      frequencyHz < 17500 ? 10 * Math.log10(frequencyHz / 1000) : -100,
    )
    expect(Math.abs((crestDb(analysed([white], sampleRateHz), 0) ?? 0) - 12.7)).toBeLessThan(0.4)
  })

  test('that were taken off at less than three times the level are found', () => {
    for (let seed = 1; seed <= 5; seed++) {
      expect(crestDb(analysed([limited(make(seed), 2.5)], sampleRateHz), 0)).toBeLessThan(leastCrestDb)
    }
  })

  test('are none where nothing is heard, or nothing counts', () => {
    expect(crestDb(analysed([new Float32Array(length)], sampleRateHz), 0)).toBeNull()
    const levels = analysed([make(1)], sampleRateHz)
    expect(
      crestDb(
        levels,
        0,
        Array.from({ length: levels.blockCount }, () => false),
      ),
    ).toBeNull()
  })
})
