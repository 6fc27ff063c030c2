import { describe, expect, test } from 'vitest'
import { octaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { decayFromResponseS, octaveDecays } from '../../../../src/acoustics/measuring/impulse-decay.ts'
import { decayEnd } from '../../../../src/acoustics/measuring/impulse-noise.ts'
import { added, whiteNoise } from './by-hand.ts'

const sampleRateHz = 24000
const lead = 2400
/** Noise that falls by 60 dB in a time, after a tenth of a second of silence. */
const decaying = (decayS: number, lengthS: number, seed: number) =>
  added(
    new Float64Array(lengthS * sampleRateHz),
    whiteNoise((lengthS - 0.1) * sampleRateHz, 0.3, seed).map(
      (value, n) => value * 10 ** ((-3 * n) / (decayS * sampleRateHz)),
    ),
    lead,
  )
const bands = octaveBands(125, 8000)

describe('the decay by octave', () => {
  test.each([0.4, 1, 2.2])('of noise that decays in %f s is that, as nearly as one throw of noise tells', (decayS) => {
    const found = octaveDecays(decaying(decayS, 3, 1), sampleRateHz, bands)
    for (const { band, t20S, t30S } of found) {
      // Relative standard deviation of T20 of one decay: 0.88/√(B T) … with B the width of the octave (ISO 3382-1, uncertainty).
      const allowed = Math.max(0.02, (3 * 1.5) / Math.sqrt((band.upperHz - band.lowerHz) * decayS))
      for (const told of [t20S, t30S]) {
        expect(Math.abs((told as number) / decayS - 1), `${band.nominalHz} Hz`).toBeLessThan(allowed)
      }
    }
  })

  test('is the same with noise under it as without, and its range is that above the noise', () => {
    const clean = decaying(1.2, 3, 2)
    const noisy = added(clean, whiteNoise(clean.length, 0.3e-2, 3))
    const [without, under] = [clean, noisy].map((samples) => octaveDecays(samples, sampleRateHz, bands))
    for (const [i, { band, t20S, rangeDb }] of (under ?? []).entries()) {
      expect(Math.abs((t20S as number) / (without?.[i]?.t20S as number) - 1), `${band.nominalHz} Hz`).toBeLessThan(0.03)
      expect(Math.abs(rangeDb - 40), `${band.nominalHz} Hz`).toBeLessThan(4)
    }
  })

  test('is not told where the noise is too near: T30 from 45 dB on, T20 from 35 dB on', () => {
    const clean = decaying(1.2, 3, 4)
    const at = (noiseDb: number) =>
      octaveDecays(
        added(clean, whiteNoise(clean.length, 0.3 * 10 ** (noiseDb / 20), 5)),
        sampleRateHz,
        octaveBands(2000, 2000),
      )[0]
    expect(at(-60)?.t30S).not.toBeNull()
    expect(at(-40)).toMatchObject({ t30S: null, missing: null })
    expect(at(-40)?.t20S).not.toBeNull()
    expect(at(-28)).toMatchObject({ t20S: null, t30S: null, missing: 'range' })
    expect(at(20)).toMatchObject({ t20S: null, missing: 'range' })
  })

  test('is not told where the filter itself rings as long', () => {
    const [low, high] = octaveDecays(decaying(0.1, 1, 6), sampleRateHz, octaveBands(63, 4000)).filter(
      ({ band }) => band.nominalHz === 63 || band.nominalHz === 4000,
    )
    expect(low).toMatchObject({ t20S: null, missing: 'filter' })
    expect(high?.t20S).toBeCloseTo(0.1, 1)
  })

  test('that bends is marked: the second slope makes T30 longer than T20', () => {
    const two = added(
      decaying(0.5, 3, 7),
      decaying(2.5, 3, 8).map((value) => 0.04 * value),
    )
    const [bent, straight] = [two, decaying(0.5, 3, 7)].map(
      (samples) => octaveDecays(samples, sampleRateHz, octaveBands(4000, 4000))[0],
    )
    expect(bent?.curvaturePercent).toBeGreaterThan(10)
    expect(bent?.nonLinearityPerMille).toBeGreaterThan(10)
    expect(Math.abs(straight?.curvaturePercent as number)).toBeLessThan(5)
    expect(straight?.nonLinearityPerMille).toBeLessThan(5)
  })

  test('refuses what it cannot take, in words', () => {
    expect(() => octaveDecays(new Float64Array(4000), sampleRateHz)).toThrow(/loudest square of response is 0/)
    expect(() => octaveDecays(new Float64Array(10), sampleRateHz)).toThrow(
      /response.length is 10; allowed is .* from 1024/,
    )
    expect(() => octaveDecays(decaying(1, 1, 1), sampleRateHz, octaveBands(8000, 16000))).toThrow(
      /half the sample rate/,
    )
    expect(() => decayFromResponseS([1, 0.9, 0.8], 1000)).toThrow(/does not fall from -5 to -35 dB/)
    expect(() => decayFromResponseS([0, 0], 1000)).toThrow(/energy of samples is 0/)
  })
})

describe('the end of a decay', () => {
  test('lies where its envelope crosses the noise', () => {
    // 60 dB/s from a mean square of 1 to one of 1e-4: 40 dB, at two thirds of a second.
    const clean = whiteNoise(2 * sampleRateHz, 1, 1).map((value, n) => value * 10 ** ((-3 * n) / sampleRateHz))
    const squares = added(clean, whiteNoise(clean.length, 0.01, 2)).map((value) => value * value)
    const { at, noiseSquare, lateDecayS } = decayEnd(squares, sampleRateHz)
    expect(at / sampleRateHz).toBeCloseTo(2 / 3, 1)
    expect(10 * Math.log10(noiseSquare / 1e-4)).toBeCloseTo(0, 0)
    expect(lateDecayS).toBeCloseTo(1, 0)
  })
})
