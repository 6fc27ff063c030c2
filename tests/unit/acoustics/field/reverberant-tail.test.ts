import { describe, expect, it } from 'vitest'
import { reverberantTail, thirdOctaveBands } from '../../../../src/acoustics/index.ts'
import { decayFromResponseS } from '../../../../src/acoustics/measuring/impulse-decay.ts'
import { inverseRealDft, realDft } from '../../../../src/acoustics/signals/dft.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { thirdOctaveAttenuationDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'

const sampleRateHz = 16000
const length = 2 ** 16
const bands = thirdOctaveBands(63, 6300)
/** Decay and level that differ from band to band, as in a hall with people. */
const tails = bands.map((band, i) => ({ band, decayTimeS: 1.6 - 0.04 * i, meanSquare: 10 ** (-i / 20) }))
const spec = { sampleRateHz, length, startS: 0.8, speedOfSoundMps: 343.2, seed: 3 }
const tail = reverberantTail(tails, spec)

/** One band of the tail through the class 1 filter, without its phase. */
function throughBand(band: (typeof bands)[number]): Float64Array {
  const { re, im } = realDft(tail)
  for (let k = 0; k < re.length; k++) {
    const gain = k === 0 ? 0 : 10 ** (-thirdOctaveAttenuationDb((k * sampleRateHz) / length, band) / 20)
    re[k] = (re[k] as number) * gain
    im[k] = (im[k] as number) * gain
  }
  return inverseRealDft({ re, im }, length)
}

describe('the reverberant tail', () => {
  it('decays in every band as it was told, within 5 %', () => {
    for (const { band, decayTimeS } of tails) {
      expect(decayFromResponseS(throughBand(band), sampleRateHz) / decayTimeS, `${band.nominalHz} Hz`).toBeGreaterThan(
        0.95,
      )
      expect(decayFromResponseS(throughBand(band), sampleRateHz) / decayTimeS, `${band.nominalHz} Hz`).toBeLessThan(
        1.05,
      )
    }
  })
  it('has the mean |H|² that each band was told, within 0.1 dB', () => {
    const { re, im } = realDft(tail)
    for (const { band, meanSquare } of tails) {
      let [sum, count] = [0, 0]
      for (let k = 0; k < re.length; k++) {
        const frequencyHz = (k * sampleRateHz) / length
        if (frequencyHz < band.lowerHz || frequencyHz >= band.upperHz) continue
        sum += (re[k] as number) ** 2 + (im[k] as number) ** 2
        count++
      }
      expect(Math.abs(10 * Math.log10(sum / count / meanSquare)), `${band.nominalHz} Hz`).toBeLessThan(0.1)
    }
  })
  it('is silent before its start and fades in after it, and leaves the first 10 ms to the early sound', () => {
    const start = Math.ceil(0.8 * sampleRateHz)
    expect(tail.subarray(0, start).every((value) => value === 0)).toBe(true)
    const mean = (from: number, to: number) => tail.subarray(from, to).reduce((sum, x) => sum + x * x, 0) / (to - from)
    const early = Math.floor(0.009 * sampleRateHz)
    expect(mean(start, start + early)).toBeLessThan(1e-9 * mean(start + 10 * early, start + 20 * early))
  })
  it('is the same for the same seed, and another for another', () => {
    const few = tails.slice(5, 8)
    expect(reverberantTail(few, spec)).toEqual(reverberantTail(few, spec))
    expect(reverberantTail(few, spec)).not.toEqual(reverberantTail(few, { ...spec, seed: 4 }))
  })
  it('can be silent, and refuses values out of range', () => {
    expect(
      reverberantTail(
        tails.map((each) => ({ ...each, meanSquare: 0 })),
        spec,
      ).every((x) => x === 0),
    ).toBe(true)
    expect(reverberantTail([], spec).every((x) => x === 0)).toBe(true)
    const [first] = tails
    if (!first) throw new Error('no band')
    expect(() => reverberantTail([{ ...first, decayTimeS: 0 }], spec)).toThrow('decayTimeS of band 63 Hz is 0')
    expect(() => reverberantTail([{ ...first, meanSquare: -1 }], spec)).toThrow('meanSquare of band 63 Hz is -1')
    expect(() => reverberantTail(tails, { ...spec, startS: 9 })).toThrow('startS is 9')
    expect(() => reverberantTail(tails, { ...spec, sampleRateHz: 8000 })).toThrow('upper edge of band 4000 Hz')
  })
})

describe('decay by backward integration', () => {
  it('finds the decay time of a pure exponential', () => {
    const samples = Float64Array.from({ length: 32000 }, (_, i) => 10 ** ((-3 * i) / (16000 * 0.9)))
    expect(decayFromResponseS(samples, 16000)).toBeCloseTo(0.9, 3)
  })
  it('refuses silence and a response that does not fall far enough', () => {
    const random = seededRandom(1)
    const flat = Float64Array.from({ length: 4000 }, () => (random() < 0.5 ? -1 : 1))
    expect(() => decayFromResponseS(new Float64Array(100), 16000)).toThrow('energy of samples is 0')
    expect(() => decayFromResponseS(flat.subarray(0, 1000), 16000)).toThrow('does not fall')
    expect(() => decayFromResponseS(flat, 16000, { fromDb: -5, toDb: -4 })).toThrow('toDb is -4')
  })
})
