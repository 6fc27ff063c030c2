import { describe, expect, it } from 'vitest'
import { type Band, octaveBands, thirdOctaveBands } from '../../../../src/acoustics/bands/octave-bands.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { thirdOctaveAttenuationDb, thirdOctaveLevelsDb } from '../../../../src/acoustics/signals/third-octave-levels.ts'
import reference from '../../../evidence/reference/octave-bands.json' with { type: 'json' }

const sampleRateHz = 48000

const sine = (frequencyHz: number, length: number, amplitude = 1): Float32Array =>
  Float32Array.from({ length }, (_, n) => amplitude * Math.sin((2 * Math.PI * frequencyHz * n) / sampleRateHz))

const whiteNoise = (length: number, seed: number): Float32Array => {
  const random = seededRandom(seed)
  return Float32Array.from({ length }, () => random() - 0.5)
}

type Limit = (typeof reference.class1OctaveLimits)[number]

/** Limits at a ratio above 1, interpolated linearly over the logarithm of frequency; beyond the last row they stay. */
function limitsAt(ratio: number, limits: Limit[]): { minDb: number; maxDb: number } {
  const last = limits.at(-1) as Limit
  if (ratio >= last.ratioAbove) return { minDb: last.minDb, maxDb: Infinity }
  const above = limits.findIndex(({ ratioAbove }) => ratioAbove > ratio)
  const [a, b] = [limits[above - 1] as Limit, limits[above] as Limit]
  const part = Math.log(ratio / a.ratioAbove) / Math.log(b.ratioAbove / a.ratioAbove)
  const between = (low: number, high: number): number => low + part * (high - low)
  return {
    minDb: between(a.minDb, b.minDb),
    maxDb: a.maxDb === null || b.maxDb === null ? Infinity : between(a.maxDb, b.maxDb),
  }
}

describe('the band filter', () => {
  const cases: { name: string; bands: Band[]; limits: Limit[] }[] = [
    { name: 'third octave', bands: thirdOctaveBands(25, 20000), limits: reference.class1ThirdOctaveLimits },
    { name: 'octave', bands: octaveBands(31.5, 16000), limits: reference.class1OctaveLimits },
  ]

  it.each(cases)(
    'lies inside the class 1 limits at 4000 frequencies of every $name, both sides',
    ({ bands, limits }) => {
      for (const band of bands) {
        for (let step = 0; step <= 2000; step++) {
          const ratio = 20 ** (step / 2000)
          const { minDb, maxDb } = limitsAt(ratio, limits)
          for (const frequencyHz of [band.centreHz * ratio, band.centreHz / ratio]) {
            const attenuationDb = thirdOctaveAttenuationDb(frequencyHz, band)
            if (attenuationDb < minDb || attenuationDb > maxDb) {
              expect.fail(`${band.nominalHz} Hz at ratio ${ratio}: ${attenuationDb} dB outside ${minDb} … ${maxDb} dB`)
            }
          }
        }
      }
    },
  )

  it('passes as much white noise as an ideal filter from edge to edge (sum over fine steps; 0.0001 dB)', () => {
    for (const band of [...thirdOctaveBands(1000, 1000), ...octaveBands(1000, 1000)]) {
      let passedHz = 0
      const stepHz = 0.5
      for (let f = stepHz / 2; f < 400000; f += stepHz)
        passedHz += 10 ** (-thirdOctaveAttenuationDb(f, band) / 10) * stepHz
      expect(Math.abs(10 * Math.log10(passedHz / (band.upperHz - band.lowerHz)))).toBeLessThan(0.0001)
    }
  })

  it('passes of pink noise 0.0004 dB (third octave) and 0.0030 dB (octave) less than an ideal filter', () => {
    const deviationDb = (band: Band): number => {
      let passed = 0
      const step = 1e-3
      for (let u = -6; u < 6; u += step)
        passed += 10 ** (-thirdOctaveAttenuationDb(band.centreHz * Math.exp(u), band) / 10) * step
      return 10 * Math.log10(passed / Math.log(band.upperHz / band.lowerHz))
    }
    expect(deviationDb(thirdOctaveBands(1000, 1000)[0] as Band)).toBeCloseTo(-0.0004, 4)
    expect(deviationDb(octaveBands(1000, 1000)[0] as Band)).toBeCloseTo(-0.003, 4)
  })

  it('is refused for a frequency outside 0 … 1 MHz and for a band whose edges do not enclose its centre', () => {
    const band = thirdOctaveBands(1000, 1000)[0] as Band
    for (const frequencyHz of [0, -1, 1e6 + 1, Number.NaN])
      expect(() => thirdOctaveAttenuationDb(frequencyHz, band)).toThrow('frequencyHz is')
    expect(Number.isFinite(thirdOctaveAttenuationDb(1e-9, band))).toBe(true)
    expect(() => thirdOctaveAttenuationDb(1000, { ...band, lowerHz: 1001 })).toThrow('band.centreHz is 1000')
    expect(() => thirdOctaveAttenuationDb(1000, { ...band, upperHz: Number.NaN })).toThrow(RangeError)
  })
})

describe('third-octave levels', () => {
  it('of a full-scale sine at a band centre are −3.01 dB there and at least 16 dB less elsewhere', () => {
    const bands = thirdOctaveBands(25, 20000)
    const levels = thirdOctaveLevelsDb(sine(1000, 48000), sampleRateHz)
    expect(levels.length).toBe(bands.length)
    levels.forEach((level, i) => {
      if (bands[i]?.nominalHz === 1000) expect(level).toBeCloseTo(-3.0103, 4)
      else expect(level).toBeLessThan(-3 - 16)
    })
  })

  it('scale with the square of the amplitude', () => {
    const band = thirdOctaveBands(100, 100)
    const loud = thirdOctaveLevelsDb(sine(100, 4800), sampleRateHz, band)[0] as number
    const soft = thirdOctaveLevelsDb(sine(100, 4800, 0.01), sampleRateHz, band)[0] as number
    expect(loud - soft).toBeCloseTo(40, 5)
  })

  it('of white noise rise by 1 dB a third octave and 3 dB an octave, as bandwidth does', () => {
    // Flat lines of random sign: an impulse has them exactly.
    const impulse = new Float32Array(48000)
    impulse[100] = 1
    const thirds = thirdOctaveLevelsDb(impulse, sampleRateHz, thirdOctaveBands(100, 5000))
    const octaves = thirdOctaveLevelsDb(impulse, sampleRateHz, octaveBands(125, 4000))
    for (let i = 1; i < thirds.length; i++) expect((thirds[i] as number) - (thirds[i - 1] as number)).toBeCloseTo(1, 2)
    for (let i = 1; i < octaves.length; i++)
      expect((octaves[i] as number) - (octaves[i - 1] as number)).toBeCloseTo(3, 2)
  })

  it('of white noise are its density times the bandwidth, read off an impulse of known energy', () => {
    const impulse = new Float32Array(48000)
    impulse[0] = 1
    const [band] = thirdOctaveBands(1000, 1000) as [Band]
    // Mean square 1/48000 spread evenly over 24 kHz.
    const wanted = 10 * Math.log10(((band.upperHz - band.lowerHz) / 24000) * (1 / 48000))
    expect(thirdOctaveLevelsDb(impulse, sampleRateHz, [band])[0]).toBeCloseTo(wanted, 3)
  })

  it('of a signal said twice are those of the signal', () => {
    const noise = whiteNoise(9600, 1)
    const twice = Float32Array.from({ length: 19200 }, (_, n) => noise[n % 9600] as number)
    const once = thirdOctaveLevelsDb(noise, sampleRateHz)
    thirdOctaveLevelsDb(twice, sampleRateHz).forEach((level, i) => {
      expect(level).toBeCloseTo(once[i] as number, 9)
    })
  })

  it('of a signal over 2²¹ samples average its blocks by energy, the remainder weighted by its length', () => {
    // A tone that fits both block lengths, in the first 2²⁰ samples only: a known part of the whole.
    const block = 2 ** 20
    const length = 2 * block + block / 2
    const toneBetween = (start: number, end: number): Float32Array => {
      const samples = new Float32Array(length)
      for (let n = start; n < end; n++) samples[n] = Math.sin((2 * Math.PI * n) / 64)
      return samples
    }
    const bands = [{ index: 0, nominalHz: 750, centreHz: 750, lowerHz: 668, upperHz: 842 }]
    const levelDb = (samples: Float32Array): number => thirdOctaveLevelsDb(samples, sampleRateHz, bands)[0] as number
    expect(levelDb(toneBetween(0, block))).toBeCloseTo(10 * Math.log10(0.5 / 2.5), 4)
    expect(levelDb(toneBetween(block, length))).toBeCloseTo(10 * Math.log10((0.5 * 1.5) / 2.5), 4)
  })

  it('have by default the bands from 25 Hz up to 20 kHz that end below half the sample rate', () => {
    for (const [rate, highestHz] of [
      [8000, 3150],
      [44100, 16000],
      [48000, 20000],
      [192000, 20000],
      [57, 25],
    ] as const) {
      const bands = thirdOctaveBands(25, highestHz)
      expect(thirdOctaveLevelsDb(whiteNoise(1000, 2), rate).length, `${rate} Hz`).toBe(bands.length)
    }
  })

  it('of silence, and of a constant, are −Infinity, never NaN', () => {
    for (const samples of [new Float32Array(480), new Float32Array(1).fill(1)]) {
      expect(Array.from(thirdOctaveLevelsDb(samples, sampleRateHz)).every((level) => level === -Infinity)).toBe(true)
    }
  })

  it('are refused for no samples, a sample that is no number, a bad rate and a band above half the rate', () => {
    const good = whiteNoise(480, 3)
    expect(() => thirdOctaveLevelsDb(new Float32Array(0), sampleRateHz)).toThrow('samples.length is 0')
    for (const broken of [Number.NaN, Infinity, -Infinity]) {
      const samples = good.slice()
      samples[77] = broken
      expect(() => thirdOctaveLevelsDb(samples, sampleRateHz)).toThrow(`samples[77] is ${broken}`)
    }
    for (const rate of [0, -48000, 1e6 + 1, Number.NaN, 56])
      expect(() => thirdOctaveLevelsDb(good, rate)).toThrow(`sampleRateHz is ${rate}`)
    expect(() => thirdOctaveLevelsDb(good, 44100, thirdOctaveBands(16000, 20000))).toThrow('bands[1].upperHz is 22387')
    expect(() => thirdOctaveLevelsDb(good, 44100, thirdOctaveBands(16000, 20000))).toThrow(
      '22050 Hz (half the sample rate)',
    )
  })
})
