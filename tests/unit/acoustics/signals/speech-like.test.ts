import { expect, test } from 'vitest'
import { thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { realDft } from '../../../../src/acoustics/signals/dft.ts'
import { speechLike } from '../../../../src/acoustics/signals/speech-like.ts'
import { speechLoopS, speechPhrases } from '../../../../src/acoustics/signals/speech-score.ts'
import { thirdOctaveLevelsDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'

const sampleRateHz = 48000
const loop = speechLike({ sampleRateHz })

test('the loop lasts eight seconds, is the same at every visit and has its level and headroom', () => {
  expect(loop.length).toBe(speechLoopS * sampleRateHz)
  expect(speechLike({ sampleRateHz })).toEqual(loop)
  const rms = Math.sqrt(loop.reduce((sum, sample) => sum + sample * sample, 0) / loop.length)
  // 1e-7: single-precision rounding of the samples.
  expect(Math.abs(rms - 0.1)).toBeLessThan(1e-7)
  // −1 dBFS: the ceiling that every sound passes must not touch it.
  expect(loop.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)).toBeLessThan(10 ** (-1 / 20))
})

test('over the seam the waveform steps no more than in the pauses, far below its steps while speaking', () => {
  const step = (index: number): number =>
    Math.abs((loop[index % loop.length] ?? 0) - (loop[(index + loop.length - 1) % loop.length] ?? 0))
  const steps = Array.from(loop, (_, index) => step(index)).sort((a, b) => a - b)
  const median = steps[Math.floor(steps.length / 2)] ?? 0
  for (let index = -48; index <= 48; index++) expect(step(index + loop.length)).toBeLessThan(median / 10)
})

test('phrases do not overlap, and the seam lies in a pause of 0.1 s or more on either side', () => {
  const phrases = speechPhrases()
  const ends = phrases.map(
    ({ startS, segments }) => startS + segments.reduce((sum, { durationS }) => sum + durationS, 0),
  )
  for (const [index, phrase] of phrases.entries()) {
    // A third of a second is a pause that is heard as one.
    if (index > 0) expect(phrase.startS - (ends[index - 1] ?? 0)).toBeGreaterThan(0.33)
  }
  expect(phrases[0]?.startS).toBeGreaterThan(0.1)
  expect(ends.at(-1)).toBeLessThan(speechLoopS - 0.1)
})

test('at other sample rates it is the same speech: the same levels in the third octaves that there is room for', () => {
  for (const [rateHz, toHz] of [
    [16000, 6300],
    [44100, 16000],
  ] as const) {
    const bands = thirdOctaveBands(63, toHz)
    const levelsDb = thirdOctaveLevelsDb(speechLike({ sampleRateHz: rateHz }), rateHz, bands)
    const atHome = thirdOctaveLevelsDb(loop, sampleRateHz, bands)
    // 0.1 dB for the filter at each rate, and 0.15 dB of level that the bands above 6.3 kHz hold.
    for (const [i, levelDb] of levelsDb.entries()) expect(Math.abs(levelDb - (atHome[i] ?? 0))).toBeLessThan(0.25)
  }
})

test('sample rates outside the range are refused', () => {
  for (const wrong of [15999, 192001, Number.NaN]) expect(() => speechLike({ sampleRateHz: wrong })).toThrow(RangeError)
})

/**
 * Power of the envelope's changes in the third octave round a rate, dB. The envelope is the root mean square of pieces of
 * 4 ms, analysed as one period.
 */
function modulationDb(rateHz: number): number {
  const piece = Math.round(0.004 * sampleRateHz)
  const envelope = Float64Array.from({ length: Math.floor(loop.length / piece) }, (_, i) => {
    const part = loop.subarray(i * piece, (i + 1) * piece)
    return Math.sqrt(part.reduce((sum, sample) => sum + sample * sample, 0) / piece)
  })
  const { re, im } = realDft(envelope)
  let power = 0
  for (let k = 1; k < re.length; k++) {
    const lineHz = (k * sampleRateHz) / loop.length
    if (Math.abs(Math.log2(lineHz / rateHz)) < 1 / 6) power += (re[k] as number) ** 2 + (im[k] as number) ** 2
  }
  return 10 * Math.log10(power)
}

test('its loudness changes most some four to six times a second, as speech is said to (Ding 2017: a broad peak around 5 Hz)', () => {
  const rates = Array.from({ length: 19 }, (_, i) => 0.5 * 2 ** (i / 3))
  const loudest = rates.reduce((best, rateHz) => (modulationDb(rateHz) > modulationDb(best) ? rateHz : best))
  expect(loudest).toBeGreaterThanOrEqual(4)
  expect(loudest).toBeLessThan(6.4)
})
