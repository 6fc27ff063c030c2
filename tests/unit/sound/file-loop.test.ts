import { describe, expect, test } from 'vitest'
import { pinkNoise } from '../../../src/acoustics/signals/pink-noise.ts'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { fileLoop, longestLoopS, meanOfChannels, shortestFileS } from '../../../src/sound/file-loop.ts'
import { asLoudAsNoise } from '../../../src/sound/signal-loop.ts'

const sampleRateHz = 8000

/** Largest difference between neighbours, the last and the first of a loop included. */
function largestStep(samples: Float32Array, round: boolean): number {
  let most = 0
  for (let index = round ? 0 : 1; index < samples.length; index++)
    most = Math.max(most, Math.abs((samples[index] ?? 0) - (samples.at(index - 1) ?? 0)))
  return most
}
const tone = (frequencyHz: number, durationS: number, peak = (_timeS: number) => 1): Float32Array =>
  Float32Array.from({ length: Math.round(durationS * sampleRateHz) }, (_, index) => {
    const timeS = index / sampleRateHz
    return peak(timeS) * Math.sin(2 * Math.PI * frequencyHz * timeS)
  })

describe('a loop of a recording', () => {
  test('a tone that does not fit makes no step at the seam larger than its own', () => {
    for (const durationS of [1, 2.37, 10.123]) {
      const recording = tone(101.3, durationS)
      // Where a tone meets itself out of step, both are heard at equal power: up to the square root of two.
      const own = largestStep(recording, false)
      expect(largestStep(fileLoop(recording, sampleRateHz).samples, true)).toBeLessThanOrEqual(Math.SQRT2 * own * 1.01)
      // Cut off and repeated without a seam it would click.
      const cut = recording.slice(0, Math.round((Math.floor(101.3 * durationS - 1) + 0.25) * (sampleRateHz / 101.3)))
      expect(largestStep(cut, true)).toBeGreaterThan(3 * own)
    }
  })

  test('noise has the same power in the seam as elsewhere', () => {
    const random = seededRandom(7)
    const recording = Float32Array.from({ length: 10 * sampleRateHz }, () => random() - 0.5)
    const { samples } = fileLoop(recording, sampleRateHz)
    const power = (part: Float32Array) => part.reduce((sum, sample) => sum + sample * sample, 0) / part.length
    const seam = samples.subarray(0, sampleRateHz / 2)
    // 4000 independent samples: a standard deviation of 0.07 dB.
    expect(Math.abs(10 * Math.log10(power(seam) / power(samples)))).toBeLessThan(0.3)
  })

  test('the sample after the last is the one that followed it in the recording', () => {
    const recording = Float32Array.from({ length: 3 * sampleRateHz }, (_, index) => index)
    const { samples, fromS } = fileLoop(recording, sampleRateHz)
    expect(fromS).toBe(0)
    expect(samples[0]).toBe((samples.at(-1) ?? 0) + 1)
  })

  test('of a long recording the loudest minute is taken, wherever it is; an even one from its beginning', () => {
    const late = fileLoop(
      tone(200, 150, (timeS) => (timeS > 80 ? 0.8 : 0.1)),
      sampleRateHz,
    )
    expect(late.fileS).toBe(150)
    expect(late.samples.length / sampleRateHz).toBeGreaterThan(longestLoopS - 1)
    expect(late.samples.length / sampleRateHz).toBeLessThanOrEqual(longestLoopS)
    expect(late.fromS).toBeGreaterThanOrEqual(80)
    expect(fileLoop(tone(200, 150), sampleRateHz).fromS).toBe(0)
  })

  test('less than a second, no channel or a rate of nothing are refused with what is allowed', () => {
    expect(() => fileLoop(tone(100, 0.9), sampleRateHz)).toThrow(/fileS/)
    expect(() => fileLoop(tone(100, shortestFileS), sampleRateHz)).not.toThrow()
    expect(() => fileLoop(tone(100, 2), 0)).toThrow(/sampleRateHz/)
    expect(() => meanOfChannels([])).toThrow(/channels/)
  })

  test('several channels become their mean', () => {
    expect(meanOfChannels([new Float32Array([1, 0.5]), new Float32Array([0, -0.5])])).toEqual(
      new Float32Array([0.5, 0]),
    )
  })

  test('a minute at 48 kHz is made as loud as the noise in the time that a reader waits', { timeout: 60_000 }, () => {
    const rateHz = 48000
    const { samples } = fileLoop(pinkNoise({ sampleRateHz: rateHz, durationS: 70, seed: 3 }), rateHz)
    const even = asLoudAsNoise(
      samples.map((sample) => sample / 2),
      rateHz,
    )
    const rms = Math.sqrt(even.reduce((sum, sample) => sum + sample * sample, 0) / even.length)
    // The same kind of noise, so equal sones are equal levels; the tolerance is that of the other loops (equal-sones.test.ts).
    expect(Math.abs(20 * Math.log10(rms / 0.1))).toBeLessThan(0.12)
  })
})
