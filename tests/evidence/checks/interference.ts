import { dipsHz, risesHz } from '../../../src/acoustics/field/path-interference.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { type Check, type CheckGroup, commonPractice } from '../check.ts'

const air = makeAir()
const wallRule = 'rule of thumb for a speaker in front of a wall, 16 ft there and back'

/** Level of two equal arrivals re one of them, straight from the phase of their difference; c = 343.2 m/s. */
const twoArrivalsDb = (pathDifferenceM: number, frequencyHz: number): number => {
  const phaseRad = (2 * Math.PI * frequencyHz * pathDifferenceM) / 343.2
  return 20 * Math.log10(Math.hypot(1 + Math.cos(phaseRad), Math.sin(phaseRad)))
}

const pathDifferencesM = [0.5, 1, 2, 4.88]

const phasorChecks: Check[] = pathDifferencesM.flatMap((pathDifferenceM) => {
  const shared = {
    unit: 'dB',
    source: commonPractice,
    place: 'sum of two equal phasors',
    input: `path difference ${pathDifferenceM} m, all up to 2 kHz, 20 °C`,
    tolerance: 0,
  }
  const key = String(pathDifferenceM).replace('.', '-')
  return [
    {
      ...shared,
      id: `interference-phasor-dip-${key}`,
      quantity: 'Two equal arrivals re one: highest level at a dip',
      expected: -180,
      relation: 'at most' as const,
      toleranceReason: 'full cancellation up to the rounding of double precision',
      computed: () => Math.max(...dipsHz(pathDifferenceM, 2000, air).map((f) => twoArrivalsDb(pathDifferenceM, f))),
    },
    {
      ...shared,
      id: `interference-phasor-rise-${key}`,
      quantity: 'Two equal arrivals re one: lowest level at a rise',
      expected: 6.0205999,
      relation: 'at least' as const,
      toleranceReason: 'doubled pressure is 6.02059991 dB; the limit is cut below that',
      computed: () => Math.min(...risesHz(pathDifferenceM, 2000, air).map((f) => twoArrivalsDb(pathDifferenceM, f))),
    },
  ]
})

/** Wavelengths at 343.2 m/s. */
const wavelengths = [
  { frequencyHz: 20, wavelengthM: 17.16 },
  { frequencyHz: 50, wavelengthM: 6.864 },
  { frequencyHz: 100, wavelengthM: 3.432 },
  { frequencyHz: 250, wavelengthM: 1.3728 },
  { frequencyHz: 1000, wavelengthM: 0.3432 },
  { frequencyHz: 8000, wavelengthM: 0.0429 },
]

const wavelengthChecks: Check[] = wavelengths.flatMap(({ frequencyHz, wavelengthM }) => {
  const shared = {
    unit: 'Hz',
    source: 'iso-9613-1',
    place: 'speed of sound at 20 °C; wavelength is speed over frequency',
    expected: frequencyHz,
    tolerance: 1e-9 * frequencyHz,
    toleranceReason: 'the wavelengths are exact as written; rounding of double precision',
  }
  return [
    {
      ...shared,
      id: `interference-one-wavelength-${frequencyHz}`,
      quantity: 'First rise for a path difference of one wavelength',
      input: `path difference ${wavelengthM} m, 20 °C`,
      computed: () => risesHz(wavelengthM, 20000, air)[0] ?? Number.NaN,
    },
    {
      ...shared,
      id: `interference-half-wavelength-${frequencyHz}`,
      quantity: 'First dip for a path difference of half a wavelength',
      input: `path difference ${wavelengthM / 2} m, 20 °C`,
      computed: () => dipsHz(wavelengthM / 2, 20000, air)[0] ?? Number.NaN,
    },
  ]
})

export const interferenceChecks: CheckGroup = {
  title: 'Two arrivals: dips and rises',
  checks: [
    {
      id: 'interference-16-ft-rise',
      quantity: 'First rise for 4.88 m (16 ft) there and back',
      unit: 'Hz',
      source: commonPractice,
      place: wallRule,
      input: 'path difference 4.88 m, 20 °C',
      expected: 70,
      tolerance: 2.2,
      toleranceReason: 'the rule is told in whole feet: half a foot in 16 is 3 %',
      computed: () => risesHz(4.88, 1000, air)[0] ?? Number.NaN,
    },
    {
      id: 'interference-16-ft-dip',
      quantity: 'First dip for 4.88 m (16 ft) there and back',
      unit: 'Hz',
      source: commonPractice,
      place: wallRule,
      input: 'path difference 4.88 m, 20 °C',
      expected: 35,
      tolerance: 1.1,
      toleranceReason: 'the rule is told in whole feet: half a foot in 16 is 3 %',
      computed: () => dipsHz(4.88, 1000, air)[0] ?? Number.NaN,
    },
    ...phasorChecks,
    ...wavelengthChecks,
  ],
}
