import { expect, test } from 'vitest'
import { aWeightingDb } from '../../../src/acoustics/hearing/frequency-weighting.ts'
import { loudnessBands, zwickerLoudness } from '../../../src/acoustics/hearing/zwicker-loudness.ts'
import { weightedLevelDb } from '../../../src/acoustics/index.ts'
import { thirdOctaveLevelsDb } from '../../../src/acoustics/signals/third-octave-levels.ts'
import { gainToEqualSones } from '../../../src/sound/equal-sones.ts'
import { signalLoop } from '../../../src/sound/signal-loop.ts'

const sampleRateHz = 48000

const rmsOf = (samples: Float32Array): number =>
  Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)

test('noise keeps its root mean square of 0.1, and speech-like sound is as loud as it in phons, whatever the level', async () => {
  const [noise, speech] = await Promise.all([
    signalLoop('pink-noise', sampleRateHz),
    signalLoop('speech', sampleRateHz),
  ])
  expect(rmsOf(noise)).toBeCloseTo(0.1, 6)
  const noiseDb = thirdOctaveLevelsDb(noise, sampleRateHz, loudnessBands)
  const speechDb = thirdOctaveLevelsDb(speech, sampleRateHz, loudnessBands)
  const differences = [60, 70, 85, 95].map((levelDbA) => {
    const liftDb = levelDbA - weightedLevelDb(noiseDb, loudnessBands, aWeightingDb)
    const phons = (levelsDb: Float64Array) =>
      zwickerLoudness(
        levelsDb.map((levelDb) => levelDb + liftDb),
        'free',
      ).phons
    return phons(speechDb) - phons(noiseDb)
  })
  // 0.12 phon: the reference noise is short, its third octaves even to 0.1 dB; and 0.01 dB for the binning of each loop.
  expect(Math.abs(differences[2] ?? Number.NaN)).toBeLessThan(0.12)
  // Half a phon: half of what a careful listener can tell. The level that the page is heard at is not known.
  for (const difference of differences) expect(Math.abs(difference)).toBeLessThan(0.5)
  // Equal in root mean square they were not equally loud, or there would be nothing to set.
  expect(20 * Math.log10(rmsOf(speech) / 0.1)).toBeGreaterThan(1)
})

test('a loop that is another one turned down or up comes back to it', () => {
  const other = Float32Array.from({ length: 4800 }, (_, n) => 0.1 * Math.sin((2 * Math.PI * 1000 * n) / sampleRateHz))
  for (const gain of [0.3, 1, 4]) {
    // 5 digits: the loudness is bracketed to 10⁻⁷ dB.
    expect(
      gainToEqualSones(
        other.map((sample) => sample * gain),
        other,
        sampleRateHz,
      ),
    ).toBeCloseTo(1 / gain, 5)
  }
})

test('silence is refused', () => {
  const tone = Float32Array.from({ length: 4800 }, (_, n) => Math.sin(n / 8))
  expect(() => gainToEqualSones(new Float32Array(4800), tone, sampleRateHz)).toThrow(RangeError)
})
