import { withoutBackground } from '../../../src/acoustics/measuring/background.ts'
import { bandAverages } from '../../../src/acoustics/measuring/band-averages.ts'
import { type BlockLevels, weightings } from '../../../src/acoustics/measuring/block-levels.ts'
import { certain, studentT95 } from '../../../src/acoustics/measuring/estimate.ts'
import { LevelStream } from '../../../src/acoustics/measuring/level-stream.ts'
import { recordingBands } from '../../../src/acoustics/measuring/recording-bands.ts'
import { explainedDips } from '../../../src/acoustics/measuring/reflection-paths.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { seededRandom } from '../../../src/acoustics/signals/seeded-random.ts'
import { type Check, type CheckGroup, commonPractice, fromMemory } from '../check.ts'
import digits from '../reference/recording-bands-digits.json' with { type: 'json' }

const sampleRateHz = 48000
const idPart = (value: number): string => String(value).replace('.', '-')

/** Computes a thing at its first use only. */
function once<T>(compute: () => T): () => T {
  let value: { of: T } | undefined
  return () => {
    value ??= { of: compute() }
    return value.of
  }
}

/** The noise of the digits' script, pushed in pieces as a recording is. */
const recording = once((): BlockLevels => {
  const random = seededRandom(1)
  const stream = new LevelStream({ sampleRateHz, channelCount: 1 })
  let slow = 0
  for (let second = 0; second < 60; second++) {
    const piece = Float32Array.from({ length: sampleRateHz }, () => {
      const white = random() - 0.5
      slow = 0.98 * slow + 0.02 * white
      return slow + 0.02 * white
    })
    stream.push([piece])
  }
  return stream.levels()
})
const averages = once(() => bandAverages(recording(), 0))

/** A steady tone in a recording of five seconds. */
function toneLevels(frequencyHz: number): number[] {
  const stream = new LevelStream({ sampleRateHz, channelCount: 1 })
  stream.push([
    Float32Array.from({ length: 5 * sampleRateHz }, (_, n) => Math.sin((2 * Math.PI * frequencyHz * n) / sampleRateHz)),
  ])
  return bandAverages(stream.levels(), 0).estimates.map((estimate) => estimate?.levelDb ?? Number.NaN)
}

const weighted = (which: keyof typeof weightings): number => {
  const { weightedPowers, blockCount } = recording()
  let sum = 0
  for (let block = 0; block < blockCount; block++) sum += weightedPowers[2 * block + weightings[which]] as number
  return 10 * Math.log10(sum / blockCount)
}

const againstScipy: Check[] = recordingBands.map(({ nominalHz }, band) => ({
  id: `recording-band-${idPart(nominalHz)}`,
  kind: 'method',
  quantity: `Recording, third octave ${nominalHz} Hz`,
  unit: 'dB',
  source: 'scipy',
  place: 'butter, sosfilt, decimate',
  input: 'one minute of noise at 48 kHz, time-domain filters against transformed blocks',
  expected: digits.bands[band]?.levelDb as number,
  tolerance: 0.2,
  toleranceReason:
    'what is asked of the analysis; the windows weigh a minute a little unevenly, which at 25 Hz scatters by 0.06 dB, at 1 kHz by 0.01 dB',
  computed: () => averages().estimates[band]?.levelDb ?? Number.NaN,
}))

const againstWeighting: Check[] = (['A', 'C'] as const).map((which) => ({
  id: `recording-${which.toLowerCase()}-level`,
  kind: 'method',
  quantity: `Recording, ${which}-weighted level`,
  unit: 'dB',
  source: 'numpy',
  place: 'fft; formulas and pole frequencies of IEC 61672-1, Annex E',
  input: 'one minute of noise at 48 kHz',
  expected: which === 'A' ? digits.aDb : digits.cDb,
  tolerance: 0.1,
  toleranceReason: 'the windows weigh a minute a little unevenly; the noise is wide, so that this is less than a tenth',
  computed: () => weighted(which),
}))

/** Limits of class 1 at a few of the breakpoints, for bands whose lines are few and for one whose lines are many. */
const classOne: Check[] = [25, 63, 1000, 8000].flatMap((nominalHz) =>
  [
    { ratio: 0.7719, limitDb: 16.6 },
    { ratio: 1.2955, limitDb: 16.6 },
    { ratio: 0.327, limitDb: 60 },
    { ratio: 3.0541, limitDb: 60 },
  ]
    .filter(({ ratio }) => nominalHz * ratio < 20000)
    .map(({ ratio, limitDb }): Check => {
      const band = recordingBands.findIndex((each) => each.nominalHz === nominalHz)
      const frequencyHz = (recordingBands[band]?.centreHz ?? 0) * ratio
      return {
        id: `recording-tone-${idPart(nominalHz)}-${idPart(ratio)}`,
        kind: 'outside',
        quantity: `Recording, how far third octave ${nominalHz} Hz holds down a steady tone`,
        unit: 'dB',
        source: 'iec-61260-1',
        place: 'Table F.1, class 1, at or just beyond a breakpoint',
        input: `tone at ${ratio} times the middle of the band, 5 s at 48 kHz`,
        expected: limitDb,
        relation: 'at least',
        tolerance: 0,
        toleranceReason: 'the limit itself may not be passed',
        computed: () => -3.0103 - (toneLevels(frequencyHz)[band] as number),
      }
    }),
)

const atCentre: Check[] = [25, 50, 1000, 16000].map((nominalHz) => {
  const band = recordingBands.findIndex((each) => each.nominalHz === nominalHz)
  return {
    id: `recording-tone-centre-${idPart(nominalHz)}`,
    kind: 'outside',
    quantity: `Recording, level of a full-scale tone in the middle of third octave ${nominalHz} Hz`,
    unit: 'dB',
    source: 'iec-61260-1',
    place: 'Table 1, class 1: ±0.4 dB at the middle; the mean square of a sine is ½',
    input: '5 s at 48 kHz',
    expected: -3.0103,
    tolerance: 0.4,
    toleranceReason: 'the limit of class 1',
    computed: () => toneLevels(recordingBands[band]?.centreHz ?? 0)[band] as number,
  }
})

/** Two-sided 95 % points, as printed in tables of statistics. */
const student: Check[] = [
  [3, 3.182],
  [5, 2.571],
  [10, 2.228],
  [30, 2.042],
].map(([freedom = 1, expected = 0]) => ({
  id: `student-t-${freedom}`,
  kind: 'method',
  quantity: `Student's t, two-sided 95 % point, ${freedom} degrees of freedom`,
  unit: '1',
  source: 'scipy',
  place: 't.ppf(0.975, ν), as in every table',
  input: String(freedom),
  expected,
  tolerance: 0.005,
  toleranceReason: 'the table is rounded to 0.001, and the series is within 0.2 % from 3 degrees on',
  computed: () => studentT95(freedom),
}))

const exact = (levelDb: number) => ({ levelDb, errorDb: 0, freedom: certain })
const background: Check[] = [
  { marginDb: 6, expected: 1.26, of: 'the limit of the correction' },
  { marginDb: 10, expected: 0.46, of: 'the correction that is left out from here on' },
].map(({ marginDb, expected, of }) => ({
  id: `background-${marginDb}`,
  kind: 'practice',
  quantity: `Correction for a background ${marginDb} dB under the total`,
  unit: 'dB',
  source: fromMemory,
  place: `ISO 16283-1:2014, clause 9.2; ${of}: 10 lg (1 − 10^(−0.1 ΔL))`,
  input: `margin ${marginDb} dB`,
  expected,
  tolerance: 0.005,
  toleranceReason: 'written to 0.01 dB',
  computed: () => 80 - (withoutBackground(exact(80), exact(80 - marginDb)).estimate?.levelDb ?? Number.NaN),
}))

export const recordingChecks: CheckGroup = {
  title: 'Recordings of two microphones',
  checks: [
    ...againstScipy,
    ...againstWeighting,
    ...classOne,
    ...atCentre,
    ...student,
    ...background,
    {
      id: 'dip-detour',
      kind: 'practice',
      quantity: 'Detour of the reflection whose lowest dip is at 118 Hz',
      unit: 'm',
      source: commonPractice,
      place: 'half a wavelength at 343.2 m/s',
      input: '118 Hz, 20 °C',
      expected: 1.454,
      tolerance: 0.002,
      toleranceReason: 'the speed of sound is known to 0.1 %',
      computed: () =>
        explainedDips([{ place: 'behind', frequencyHz: 118, depthDb: 8 }], [], makeAir({ temperatureC: 20 }))[0]
          ?.extraM ?? Number.NaN,
    },
  ],
}
