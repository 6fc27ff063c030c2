import { sharpnessAcum, sharpnessUnit } from '../../../src/acoustics/hearing/sharpness.ts'
import { zwickerLoudness } from '../../../src/acoustics/hearing/zwicker-loudness.ts'
import type { Check, CheckGroup } from '../check.ts'
import reference from '../reference/sharpness.json' with { type: 'json' }

const source = 'din-45692'
const sharpnessOf = (levelsDb: number[]): number => sharpnessAcum(zwickerLoudness(levelsDb, 'free').specific)

const noises: Check[] = reference.noises.map(({ kind, lowerHz, upperHz, acum, toleranceAcum, levelsDb }) => ({
  id: `sharpness-${kind}-${lowerHz}-${upperHz}`,
  kind: 'outside',
  quantity: `Sharpness of ${kind} noise, ${lowerHz} Hz to ${upperHz} Hz`,
  unit: 'acum',
  source,
  place: kind === 'narrow-band' ? 'Table A.2' : 'Table A.3',
  input: 'flat power density between the edges, 4 sone, free field',
  expected: acum,
  tolerance: toleranceAcum,
  toleranceReason: 'what the standard allows: the greater of 5 % and 0.05 acum',
  computed: () => sharpnessOf(levelsDb),
}))

/** A pattern with one sample that is not 0: its loudness is this sample and the slope behind it, 0.15 of it. */
const oneSample = (bark: number): Float64Array => {
  const specific = new Float64Array(240)
  specific[Math.round(bark * 10) - 1] = 1
  return specific
}
const weights: Check[] = reference.gValues
  .filter(({ bark }) => bark < 24)
  .map(({ bark, g }) => ({
    id: `sharpness-weight-${String(bark).replace('.', '-')}`,
    kind: 'outside',
    quantity: `Weight g of sharpness at ${bark} Bark`,
    unit: '1',
    source,
    place: 'Equation (1)',
    input: `a pattern that is 0 but for one sample at ${bark} Bark`,
    expected: g,
    tolerance: 0.00005 + 1e-9,
    toleranceReason: 'the expected value is rounded to four decimals',
    computed: () => (sharpnessAcum(oneSample(bark)) * 1.5) / (sharpnessUnit * bark),
  }))

export const sharpnessChecks: CheckGroup = {
  title: 'Sharpness',
  checks: [
    {
      id: 'sharpness-reference-sound',
      kind: 'outside',
      quantity: 'Sharpness of the reference sound',
      unit: 'acum',
      source,
      place: 'clause 6',
      input: 'noise 920 Hz to 1080 Hz, 60 dB, free field',
      expected: 1,
      tolerance: 0.001,
      toleranceReason: 'the factor k is set so that it is 1.00; it is kept to five digits',
      computed: () => sharpnessOf(reference.referenceSoundLevelsDb),
    },
    {
      id: 'sharpness-factor',
      kind: 'outside',
      quantity: 'Factor k of sharpness',
      unit: '1',
      source,
      place: 'clause 6: 0.105 ≤ k < 0.115',
      input: 'as set by the reference sound',
      expected: 0.11,
      tolerance: 0.005,
      toleranceReason: 'half the width of what the standard allows',
      computed: () => sharpnessUnit,
    },
    ...noises,
    ...weights,
  ],
}
