import { dipsHz, risesHz } from '../../../src/acoustics/field/path-interference.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { type Check, type CheckGroup, commonPractice } from '../check.ts'

const air = makeAir()

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
      kind: 'law',
      quantity: 'Two equal arrivals re one: highest level at a dip',
      expected: -180,
      relation: 'at most' as const,
      toleranceReason: 'full cancellation up to the rounding of double precision',
      computed: () => Math.max(...dipsHz(pathDifferenceM, 2000, air).map((f) => twoArrivalsDb(pathDifferenceM, f))),
    },
    {
      ...shared,
      id: `interference-phasor-rise-${key}`,
      kind: 'law',
      quantity: 'Two equal arrivals re one: lowest level at a rise',
      expected: 6.0205999,
      relation: 'at least' as const,
      toleranceReason: 'doubled pressure is 6.02059991 dB; the limit is cut below that',
      computed: () => Math.min(...risesHz(pathDifferenceM, 2000, air).map((f) => twoArrivalsDb(pathDifferenceM, f))),
    },
  ]
})

export const interferenceChecks: CheckGroup = {
  title: 'Two arrivals: dips and rises',
  checks: [...phasorChecks],
}
