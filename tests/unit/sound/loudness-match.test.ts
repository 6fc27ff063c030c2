import { expect, test } from 'vitest'
import { loudnessBands, zwickerLoudness } from '../../../src/acoustics/hearing/zwicker-loudness.ts'
import { levelsThroughResponse, loopWeights } from '../../../src/acoustics/signals/loop-levels.ts'
import { pinkNoise } from '../../../src/acoustics/signals/pink-noise.ts'
import { createLoudnessMatch } from '../../../src/sound/loudness-match.ts'

const sampleRateHz = 48000
const loop = pinkNoise({ sampleRateHz, durationS: 2, seed: 4 })
const match = createLoudnessMatch(loop, sampleRateHz)
const unit = new Float32Array([1])
const half = new Float32Array([0.5])

/** A one-pole low-pass at 40 Hz, duller than any place behind a loudspeaker: little but bass is left. */
const dull = Float32Array.from({ length: 8192 }, (_, n) => 0.005 * 0.995 ** n)

test('where the spectrum is the same, the louder place goes down by the difference in level', () => {
  // 20 lg 2 = 6.0206 dB; 0.001 dB: the loudness is bracketed to 10⁻⁷ dB, the levels are in double precision.
  expect(match.gainsDb({ here: half, front: unit }, 80).front).toBeCloseTo(-6.0206, 3)
  expect(match.gainsDb({ here: half, front: unit }, 80).here).toBe(0)
  expect(match.gainsDb({ here: unit, front: half }, 80)).toEqual({ here: expect.closeTo(-6.0206, 3), front: 0 })
  expect(match.gainsDb({ here: unit, front: unit }, 80)).toEqual({ here: 0, front: 0 })
})

test('where the treble is gone, both places have equal sones after matching, at any level', () => {
  const weights = loopWeights(loop, sampleRateHz, loudnessBands, 32768)
  const [here, front] = [levelsThroughResponse(weights, dull), levelsThroughResponse(weights, unit)]
  const seen = [65, 80, 95].map((frontLevelDbA) => {
    const gainsDb = match.gainsDb({ here: dull, front: unit }, frontLevelDbA)
    const liftDb = frontLevelDbA - front.aWeightedDb
    const phons = (levelsDb: Float64Array, gainDb: number) =>
      zwickerLoudness(
        levelsDb.map((levelDb) => levelDb + liftDb + gainDb),
        'free',
      ).phons
    const difference = phons(here.bandLevelsDb, gainsDb.here) - phons(front.bandLevelsDb, gainsDb.front)
    // 0.05 phon: the loudness is bracketed more closely; the method's bass correction steps by less for this spectrum.
    expect(Math.abs(difference)).toBeLessThan(0.05)
    expect(gainsDb.here).toBe(0)
    return gainsDb.front
  })
  // What is equally loud depends on the level, here by half a decibel: that is why the reader's level is asked for.
  expect(new Set(seen.map((gainDb) => gainDb.toFixed(1))).size).toBe(3)
})

test('a level that would drive a band beyond 120 dB is lowered instead of refused', () => {
  const lowOnly = Float32Array.from(
    { length: 8192 },
    (_, n) => Math.sin((2 * Math.PI * 31.5 * n) / sampleRateHz) / 4096,
  )
  const quieter = lowOnly.map((sample) => sample / 2)
  expect(match.gainsDb({ here: quieter, front: lowOnly }, 110).front).toBeCloseTo(-6.0206, 3)
})

test('nothing is turned down against silence', () => {
  expect(match.gainsDb({ here: new Float32Array(100), front: unit }, 80)).toEqual({ here: 0, front: 0 })
})

test('a level outside 0 to 120 dB(A) is refused', () => {
  for (const level of [-1, 121, Number.NaN]) {
    expect(() => match.gainsDb({ here: unit, front: unit }, level)).toThrow(/^frontLevelDbA is /)
  }
})
