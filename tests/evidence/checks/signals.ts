import { octaveBands, thirdOctaveBands } from '../../../src/acoustics/bands/octave-bands.ts'
import { aWeightingDb, cWeightingDb } from '../../../src/acoustics/hearing/frequency-weighting.ts'
import { realDft } from '../../../src/acoustics/signals/dft.ts'
import { impulseResponse } from '../../../src/acoustics/signals/impulse-response.ts'
import { pinkNoise } from '../../../src/acoustics/signals/pink-noise.ts'
import { thirdOctaveLevelsDb } from '../../../src/acoustics/signals/third-octave-levels.ts'
import { type Check, type CheckGroup, commonPractice } from '../check.ts'
import weighting from '../reference/frequency-weighting.json' with { type: 'json' }

const sampleRateHz = 48000
const definition = 'definition of pink noise: power density proportional to 1/f'
const noiseInput = 'pink noise, 48 kHz, 5 s, seed 1'
const idPart = (value: number): string => String(value).replace('.', '-')

/** Computes a thing at its first use only. */
function once<T>(compute: () => T): () => T {
  let value: { of: T } | undefined
  return () => {
    value ??= { of: compute() }
    return value.of
  }
}

const noise = once(() => pinkNoise({ sampleRateHz, durationS: 5, seed: 1 }))
const thirdOctaves = thirdOctaveBands(25, 20000)
const thirdOctaveLevels = once(() => thirdOctaveLevelsDb(noise(), sampleRateHz, thirdOctaves))
const octaves = octaveBands(31.5, 8000)
const octaveLevels = once(() => thirdOctaveLevelsDb(noise(), sampleRateHz, octaves))

/** Frequency and power of the spectral lines from 20 Hz to 20 kHz. */
const lines = once(() => {
  const { re, im } = realDft(noise())
  return Array.from(re, (value, k) => ({
    frequencyHz: (k * sampleRateHz) / noise().length,
    power: value ** 2 + (im[k] as number) ** 2,
  })).filter(({ frequencyHz }) => frequencyHz >= 20 && frequencyHz <= 20000)
})

/** Slope of the straight line of least squares through level over decades of frequency. */
function slopeDbPerDecade(): number {
  const points = lines().map(({ frequencyHz, power }) => ({ x: Math.log10(frequencyHz), y: 10 * Math.log10(power) }))
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length
  const covariance = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0)
  return covariance / points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0)
}

/** Weighted over unweighted power of the noise, dB, from its lines inside the 30 third octaves 25 Hz … 20 kHz. */
function weightedDb(weightingDb: (frequencyHz: number) => number): number {
  const { re, im } = realDft(noise())
  const lowestHz = thirdOctaves[0]?.lowerHz as number
  const highestHz = thirdOctaves.at(-1)?.upperHz as number
  let weighted = 0
  let unweighted = 0
  for (let k = 0; k < re.length; k++) {
    const frequencyHz = (k * sampleRateHz) / noise().length
    if (frequencyHz < lowestHz || frequencyHz > highestHz) continue
    const power = (re[k] as number) ** 2 + (im[k] as number) ** 2
    unweighted += power
    weighted += power * 10 ** (weightingDb(frequencyHz) / 10)
  }
  return 10 * Math.log10(weighted / unweighted)
}

/** What the printed table says of noise with equal power in each of the 30 third octaves. */
function weightedFromTableDb(column: 'aDb' | 'cDb'): number {
  const rows = weighting.rows.filter(({ nominalHz }) => nominalHz >= 25 && nominalHz <= 20000)
  return 10 * Math.log10(rows.reduce((sum, row) => sum + 10 ** (row[column] / 10), 0) / rows.length)
}

const flatness: Check[] = thirdOctaves.map(({ nominalHz }, i) => ({
  id: `pink-noise-flat-${idPart(nominalHz)}`,
  kind: 'law',
  quantity: `Pink noise: third octave ${nominalHz} Hz away from the mean of all`,
  unit: 'dB',
  source: commonPractice,
  place: definition,
  input: noiseInput,
  expected: 0.1,
  relation: 'at most',
  tolerance: 0,
  toleranceReason: 'a tenth of a decibel is what a reading shows; the limit may not be passed',
  computed: () => {
    const levels = thirdOctaveLevels()
    const mean = levels.reduce((sum, level) => sum + level, 0) / levels.length
    return Math.abs((levels[i] as number) - mean)
  },
}))

const octaveAgainstThird: Check[] = octaves.map(({ nominalHz }, i) => ({
  id: `pink-noise-octave-minus-third-${idPart(nominalHz)}`,
  kind: 'law',
  quantity: `Pink noise: octave less third octave at ${nominalHz} Hz`,
  unit: 'dB',
  source: commonPractice,
  place: `${definition}; an octave holds three third octaves, 10 lg 3`,
  input: noiseInput,
  expected: 4.7712,
  tolerance: 0.005,
  toleranceReason:
    'the filters pass white noise exactly; of pink noise the octave filter passes 0.003 dB and the third-octave filter 0.0004 dB less than ideal ones',
  computed: () => (octaveLevels()[i] as number) - (thirdOctaveLevels()[3 * i + 1] as number),
}))

const tone = (frequencyHz: number): Float32Array =>
  Float32Array.from({ length: sampleRateHz }, (_, n) => Math.sin((2 * Math.PI * frequencyHz * n) / sampleRateHz))

const toneLevelAt1kHz = (frequencyHz: number): number =>
  thirdOctaveLevelsDb(tone(frequencyHz), sampleRateHz, thirdOctaveBands(1000, 1000))[0] as number

const toneChecks: Check[] = [
  {
    id: 'third-octave-tone-at-centre',
    kind: 'law',
    quantity: 'Level in third octave 1 kHz of a full-scale sine at its centre',
    unit: 'dB',
    source: commonPractice,
    place: 'mean square of a sine is ½',
    input: '1000 Hz, amplitude 1, 1 s at 48 kHz',
    expected: -3.0103,
    tolerance: 0.0001,
    toleranceReason: 'the expected value is written to four decimals',
    computed: () => toneLevelAt1kHz(1000),
  },
  ...[
    { frequencyHz: 772, limitDb: 16.6 },
    { frequencyHz: 1295, limitDb: 16.6 },
    { frequencyHz: 327, limitDb: 60 },
    { frequencyHz: 3054, limitDb: 60 },
    { frequencyHz: 185, limitDb: 70 },
    { frequencyHz: 5392, limitDb: 70 },
  ].map(
    ({ frequencyHz, limitDb }): Check => ({
      id: `third-octave-tone-${frequencyHz}`,
      kind: 'outside',
      quantity: `How far third octave 1 kHz holds down a sine at ${frequencyHz} Hz`,
      unit: 'dB',
      source: 'iec-61260-1',
      place: 'Table F.1, class 1, at or just beyond a breakpoint',
      input: `${frequencyHz} Hz, 1 s at 48 kHz`,
      expected: limitDb,
      relation: 'at least',
      tolerance: 0,
      toleranceReason: 'the limit itself may not be passed',
      computed: () => toneLevelAt1kHz(1000) - toneLevelAt1kHz(frequencyHz),
    }),
  ),
]

/** Relative rms difference of our DFT from the sum that defines it. */
function dftError(length: number): number {
  const samples = Float64Array.from({ length }, (_, n) => Math.cos(n * n) + (n % 7))
  const { re, im } = realDft(samples)
  let difference = 0
  let total = 0
  for (let k = 0; k < re.length; k++) {
    let directRe = 0
    let directIm = 0
    for (let n = 0; n < length; n++) {
      const angleRad = (2 * Math.PI * ((k * n) % length)) / length
      directRe += (samples[n] as number) * Math.cos(angleRad)
      directIm -= (samples[n] as number) * Math.sin(angleRad)
    }
    difference += (directRe - (re[k] as number)) ** 2 + (directIm - (im[k] as number)) ** 2
    total += directRe ** 2 + directIm ** 2
  }
  return Math.sqrt(difference / total)
}

const transformChecks: Check[] = [512, 480, 375, 509].map((length) => ({
  id: `dft-direct-sum-${length}`,
  kind: 'law',
  quantity: 'Discrete Fourier transform against the sum that defines it, relative rms difference',
  unit: '1',
  source: commonPractice,
  place: 'definition of the transform',
  input: `${length} samples`,
  expected: 1e-13,
  relation: 'at most',
  tolerance: 0,
  toleranceReason: 'some hundred times the rounding of double precision; the limit may not be passed',
  computed: () => dftError(length),
}))

const delaySamples = 37
const delayed = (): Float32Array =>
  impulseResponse(
    (frequencyHz) => {
      const phaseRad = (-2 * Math.PI * frequencyHz * delaySamples) / sampleRateHz
      return { re: Math.cos(phaseRad), im: Math.sin(phaseRad) }
    },
    { sampleRateHz, length: 480 },
  )

export const signalChecks: CheckGroup = {
  title: 'Noise, band levels and transforms',
  checks: [
    ...flatness,
    {
      id: 'pink-noise-slope',
      kind: 'law',
      quantity: 'Pink noise: slope of the narrow-band power density, 20 Hz to 20 kHz',
      unit: 'dB/decade',
      source: commonPractice,
      place: definition,
      input: noiseInput,
      expected: -10,
      tolerance: 0.001,
      toleranceReason: 'each line carries its exact share of 1/f; rounding to 32 bits and the width of a line remain',
      computed: slopeDbPerDecade,
    },
    ...octaveAgainstThird,
    {
      id: 'pink-noise-a-weighted',
      kind: 'outside',
      quantity: 'Pink noise, 25 Hz to 20 kHz: A-weighted less unweighted level',
      unit: 'dB',
      source: 'iec-61672-1',
      place: 'Table 3, mean over 30 third octaves of equal power',
      input: noiseInput,
      expected: weightedFromTableDb('aDb'),
      tolerance: 0.05,
      toleranceReason: 'the table is rounded to 0.1 dB',
      computed: () => weightedDb(aWeightingDb),
    },
    {
      id: 'pink-noise-c-weighted',
      kind: 'outside',
      quantity: 'Pink noise, 25 Hz to 20 kHz: C-weighted less unweighted level',
      unit: 'dB',
      source: 'iec-61672-1',
      place: 'Table 3, mean over 30 third octaves of equal power',
      input: noiseInput,
      expected: weightedFromTableDb('cDb'),
      tolerance: 0.05,
      toleranceReason: 'the table is rounded to 0.1 dB',
      computed: () => weightedDb(cWeightingDb),
    },
    ...toneChecks,
    ...transformChecks,
    {
      id: 'impulse-response-delay',
      kind: 'law',
      quantity: 'Impulse response of a pure delay: sample at the delay',
      unit: '1',
      source: commonPractice,
      place: 'a delay of whole samples moves the unit impulse',
      input: '37 samples of delay, 480 samples at 48 kHz',
      expected: 1,
      tolerance: 1e-6,
      toleranceReason: 'samples are rounded to 32 bits',
      computed: () => delayed()[delaySamples] as number,
    },
    {
      id: 'impulse-response-elsewhere',
      kind: 'law',
      quantity: 'Impulse response of a pure delay: largest other sample',
      unit: '1',
      source: commonPractice,
      place: 'a delay of whole samples moves the unit impulse',
      input: '37 samples of delay, 480 samples at 48 kHz',
      expected: 1e-12,
      relation: 'at most',
      tolerance: 0,
      toleranceReason: 'rounding of double precision only; the limit may not be passed',
      computed: () =>
        delayed().reduce((max, sample, n) => (n === delaySamples ? max : Math.max(max, Math.abs(sample))), 0),
    },
  ],
}
