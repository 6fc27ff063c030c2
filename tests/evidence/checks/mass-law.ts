import { makeAir, massLawDb } from '../../../src/acoustics/index.ts'
import { reductionDbOf } from '../../../src/engine/scene/partitions.ts'
import { type Check, type CheckGroup, commonPractice, setAfter } from '../check.ts'

const air = makeAir()

/** The rule of thumb for sheets that keep back much: 20 lg(f m) − 42, f in Hz and m in kg/m². */
const byRule: Check[] = [
  [10, 500],
  [10, 2000],
  [100, 125],
].map(([massKgM2 = 0, frequencyHz = 0]) => ({
  id: `mass-law-${massKgM2}-at-${frequencyHz}`,
  kind: 'practice',
  quantity: 'What a single sheet keeps back of sound that meets it head-on, by the rule 20 lg(f m) − 42',
  unit: 'dB',
  source: commonPractice,
  input: `${massKgM2} kg/m², ${frequencyHz} Hz`,
  expected: 20 * Math.log10(frequencyHz * massKgM2) - 42,
  tolerance: 0.5,
  toleranceReason: 'the rule has its constant in whole decibels',
  computed: () => massLawDb(massKgM2, frequencyHz, air),
}))

/** Power let through, from the pressures and the motion step by step, re the power that arrives. */
function throughDb(massKgM2: number, frequencyHz: number): number {
  const impedance = air.densityKgM3 * air.speedOfSoundMps
  // A wave of pressure 1 arrives; behind, p = ρc v. The sheet: (1 + r) − p = jωm v, and before it (1 − r) = ρc v, so 2 = (2ρc + jωm) v.
  const [re, im] = [2 * impedance, 2 * Math.PI * frequencyHz * massKgM2]
  const speedSquared = 4 / (re * re + im * im)
  return 10 * Math.log10(impedance ** 2 * speedSquared)
}

const octavesHz = [125, 250, 500, 1000, 2000, 4000]

/** How far a wall, and a door, of one make may be apart in two handbooks, dB. */
const oneMake = { tolerance: 5, toleranceReason: 'two walls of one make; the page says 5 dB either way' }
const gapsDecide = {
  tolerance: 12,
  toleranceReason: `${setAfter}: the gaps of a door decide; the page says that handbooks are 12 dB apart`,
}

/** The same make in another handbook's Table 11.4: our name, ours in words, its row, by octave, dB. */
const elsewhere: [partition: string, make: string, row: string, rowDb: number[], apart: typeof oneMake][] = [
  ['brick-wall', 'a brick wall, half a brick thick', '4 inch thick brick wall', [32, 34, 40, 47, 55, 61], oneMake],
  ['hollow-door', 'a light door', 'Hollow wooden door, 1 3/4 inch thick', [14, 19, 23, 18, 17, 21], gapsDecide],
  ['solid-door', 'a solid timber door', 'Solid wooden door, 1 3/4 inch thick', [29, 31, 31, 31, 39, 43], gapsDecide],
]

const byOtherTable = elsewhere.flatMap(([partition, make, row, rowDb, apart]): Check[] =>
  rowDb.map((expected, octave) => {
    const frequencyHz = octavesHz[octave] as number
    return {
      id: `reduction-${partition}-${frequencyHz}`,
      kind: 'outside',
      quantity: `What is kept back, against another handbook: ${make}`,
      unit: 'dB',
      source: 'rossing-2014-handbook',
      place: `Table 11.4, “${row}”, in a public transcription`,
      input: `octave of ${frequencyHz} Hz`,
      expected,
      ...apart,
      computed: () => reductionDbOf(partition)(frequencyHz),
    }
  }),
)

export const massLawChecks: CheckGroup = {
  title: 'What a wall lets through',
  checks: [
    ...byRule,
    ...byOtherTable,
    {
      id: 'mass-law-light-63',
      kind: 'law',
      quantity: 'The same of a light sheet in the bass, by the balance of pressures and mass',
      unit: 'dB',
      source: 'kinsler-frey-fundamentals',
      place: 'transmission through a thin partition at normal incidence',
      input: '10 kg/m², 63 Hz',
      expected: -throughDb(10, 63),
      tolerance: 1e-9,
      toleranceReason: 'the same relation, worked in another order: rounding only',
      computed: () => massLawDb(10, 63, air),
    },
  ],
}
