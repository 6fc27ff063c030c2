import { radiatedPowerW } from '../../../src/acoustics/field/radiated-power.ts'
import { steeringFigures } from '../../../src/acoustics/field/steering-figures.ts'
import { endFireLine, gradientPair, makeAir, monopole, type PlacedSource } from '../../../src/acoustics/index.ts'
import { type Check, type CheckGroup, commonPractice } from '../check.ts'
import { farPressure as farPressureOf } from '../far-pressure.ts'
import reference from '../reference/walls-and-pairs.json' with { type: 'json' }

const air = makeAir()
const c = 343.2
const spacingM = 1
const centre = { xM: 0, yM: 0, zM: 0 }
/** Not a round angle, so that a pattern that forgets the yaw cannot pass. */
const yawRad = 0.37
const radiation = (frequencyHz: number) => monopole(frequencyHz, air)
const frequencyOf = (kd: number): number => (kd * c) / (2 * Math.PI * spacingM)

const farPressure = (sources: PlacedSource[], kd: number, angleDeg: number): number =>
  farPressureOf(sources, { frequencyHz: frequencyOf(kd), angleDeg, yawRad }, air)

const pair = gradientPair({ spacingM, centre, yawRad, radiation }, air)
const endFire = (count: number) => endFireLine({ count, spacingM, centre, yawRad, radiation }, air)
const farReason = (rounding: string): string =>
  `${rounding}; at 100 km the ways differ by a hundred-thousandth in strength and, by rounding, by 1e-8 rad`
const keyOf = (kd: number): string => kd.toFixed(2).replace('.', '-')

const tableChecks: Check[] = reference.gradientPair.values.flatMap(({ kd, angle, pressure }) =>
  angle.map(
    (angleDeg, i): Check => ({
      id: `gradient-pair-${keyOf(kd)}-${angleDeg}`,
      kind: 'outside',
      quantity: 'Gradient pair re one box',
      unit: '1',
      source: 'olson-1973-gradient',
      place: 'two sources in opposition, one delayed by their distance',
      input: `kd = ${kd.toFixed(3)}, ${angleDeg}° from the direction of fire`,
      expected: pressure[i] as number,
      tolerance: 3e-5,
      toleranceReason: farReason('the table is rounded to 1e-5'),
      computed: () => farPressure(pair, kd, angleDeg),
    }),
  ),
)

const fifteens = Array.from({ length: 13 }, (_, i) => 15 * i)
const closedForms: Check[] = [0.3, 1, 1.5707963].flatMap((kd) =>
  fifteens.flatMap((angleDeg): Check[] => {
    const cos = Math.cos((angleDeg * Math.PI) / 180)
    const shared = {
      unit: '1',
      input: `kd = ${kd.toFixed(3)}, ${angleDeg}° from the direction of fire`,
      tolerance: 3e-5,
      toleranceReason: farReason('closed form'),
    }
    const psi = (kd * (1 - cos)) / 2
    return [
      {
        ...shared,
        id: `gradient-form-${keyOf(kd)}-${angleDeg}`,
        kind: 'outside',
        quantity: 'Gradient pair re one box, closed form',
        source: 'olson-1973-gradient',
        place: '2 |sin(kd (1 + cos θ)/2)|',
        expected: 2 * Math.abs(Math.sin((kd * (1 + cos)) / 2)),
        computed: () => farPressure(pair, kd, angleDeg),
      },
      {
        ...shared,
        id: `end-fire-four-form-${keyOf(kd)}-${angleDeg}`,
        kind: 'outside',
        quantity: 'Four boxes end-fire re one box, closed form',
        source: 'kinsler-frey-fundamentals',
        place: 'line of sources steered along itself: |sin 4ψ/sin ψ|',
        expected: psi === 0 ? 4 : Math.abs(Math.sin(4 * psi) / Math.sin(psi)),
        tolerance: 6e-5,
        computed: () => farPressure(endFire(4), kd, angleDeg),
      },
    ]
  }),
)

const endFireTable: Check[] = reference.endFirePair.values.flatMap(({ kd, angle, relativeToOneSource_dB }) =>
  angle.flatMap((angleDeg, i): Check[] => {
    const expected = relativeToOneSource_dB[i]
    if (expected === null || expected === undefined) return []
    return [
      {
        id: `end-fire-pair-${keyOf(kd)}-${angleDeg}`,
        kind: 'outside',
        quantity: 'Two boxes end-fire re one box',
        unit: 'dB',
        source: 'kinsler-frey-fundamentals',
        place: 'two sources, the front one delayed by their distance',
        input: `kd = ${kd.toFixed(3)}, ${angleDeg}° from the direction of fire`,
        expected,
        tolerance: 0.0055,
        toleranceReason: 'the table is rounded to 0.01 dB',
        computed: () => 20 * Math.log10(farPressure(endFire(2), kd, angleDeg)),
      },
    ]
  }),
)

const cardioid: Check[] = fifteens.map((angleDeg) => ({
  id: `gradient-cardioid-${angleDeg}`,
  kind: 'law',
  quantity: 'Gradient pair close together re its front: a cardioid',
  unit: '1',
  source: 'olson-1973-gradient',
  place: 'limit of small spacing: (1 + cos θ)/2',
  input: `kd = 0.02, ${angleDeg}° from the direction of fire`,
  expected: (1 + Math.cos((angleDeg * Math.PI) / 180)) / 2,
  tolerance: 3e-4,
  toleranceReason:
    'the next term of the series is (kd)²/6 = 7e-5; at 100 km one box is 1e-5 nearer, which over 2 kd = 0.04 leaves 2.5e-4 where the pattern is 0',
  computed: () => farPressure(pair, 0.02, angleDeg) / farPressure(pair, 0.02, 0),
}))

const factorChecks: Check[] = reference.gradientPair.directivityFactor.map(({ kd, Q }) => ({
  id: `gradient-directivity-factor-${keyOf(kd)}`,
  kind: 'outside',
  quantity: 'Directivity factor of a gradient pair, from the power that both radiate together',
  unit: '1',
  source: 'olson-1973-gradient',
  place: 'integral of the pattern over all directions',
  input: `kd = ${kd.toFixed(3)}`,
  expected: Q,
  tolerance: 1e-3,
  toleranceReason:
    'the table is rounded to 1e-4; for kd = 0.01 it is the limit 3, and 10 km over 1 m leave 1e-4/kd of a part',
  computed: () => {
    const frequencyHz = frequencyOf(kd)
    const one = radiation(frequencyHz).powerW
    return (farPressure(pair, kd, 0) ** 2 * one) / radiatedPowerW(pair, frequencyHz, air)
  },
}))

/** Rejection of two boxes end-fire over 40 to 100 Hz: in front always 2, behind 2 |cos kd|, in energy over the lines of the figures. */
const rejectionBand = Array.from({ length: 33 }, (_, i) => 40 * 2 ** (i / 24)).filter((hz) => hz <= 100)
const rejections: Check[] = [0.7, 1.05, 1.35].map((apartM) => ({
  id: `rejection-end-fire-${String(apartM).replace('.', '-')}`,
  kind: 'outside',
  about: ['rejection'],
  quantity: 'Rejection of two boxes end-fire, 40 to 100 Hz',
  unit: 'dB',
  source: 'kinsler-frey-fundamentals',
  place: 'chapter 7, two point sources; −10 lg of the mean of cos² kd over lines 1/24 octave apart',
  input: `${apartM} m apart, far away, 343.2 m/s`,
  expected:
    -10 *
    Math.log10(
      rejectionBand.reduce((sum, hz) => sum + Math.cos((2 * Math.PI * hz * apartM) / 343.2) ** 2, 0) /
        rejectionBand.length,
    ),
  tolerance: 0.002,
  toleranceReason: farReason('closed form; the speed of sound is printed to 0.1 m/s and computed to 0.01'),
  computed: () => {
    const line = endFireLine({ count: 2, spacingM: apartM, centre, yawRad, radiation }, air)
    const squares = (angleDeg: number) =>
      rejectionBand.map((frequencyHz) => farPressureOf(line, { frequencyHz, angleDeg, yawRad }, air) ** 2)
    const [front, behind] = [squares(0), squares(180)]
    const lines = {
      frequenciesHz: rejectionBand,
      front,
      behind,
      stackedFront: front,
      stackedBehind: behind,
      distanceDb: 0,
    }
    return steeringFigures(lines, [...rejectionBand.keys()]).rejectionDb
  },
}))

export const steeredPairChecks: CheckGroup = {
  title: 'Steered bass: gradient pairs and end-fire lines',
  checks: [
    {
      id: 'end-fire-four-front',
      kind: 'practice',
      quantity: 'Four boxes end-fire, straight in front, re one box',
      unit: 'dB',
      source: commonPractice,
      place: 'rule of thumb: four boxes in step give 12 dB more than one',
      input: '1 m apart, 50 Hz',
      expected: 12,
      tolerance: 0.5,
      toleranceReason: 'the rule is told in whole dB',
      computed: () => 20 * Math.log10(farPressure(endFire(4), (2 * Math.PI * 50) / c, 0)),
    },
    {
      id: 'gradient-quarter-wave',
      kind: 'practice',
      quantity: 'Frequency at which a gradient pair is loudest in front',
      unit: 'Hz',
      source: commonPractice,
      place: 'rule of thumb: a spacing of a quarter wavelength',
      input: '1 m apart, 20 °C, searched in steps of 0.1 Hz to 150 Hz',
      expected: 85.8,
      tolerance: 0.1,
      toleranceReason: 'the search steps by 0.1 Hz',
      computed: () => {
        const steps = Array.from({ length: 1300 }, (_, i) => 20 + i / 10)
        const levels = steps.map((frequencyHz) => farPressure(pair, (2 * Math.PI * frequencyHz) / c, 0))
        return steps[levels.indexOf(Math.max(...levels))] as number
      },
    },
    ...rejections,
    ...tableChecks,
    ...closedForms,
    ...endFireTable,
    ...cardioid,
    ...factorChecks,
  ],
}
