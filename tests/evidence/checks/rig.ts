import columnOnBase from '../../../content/gear/column-on-base.json' with { type: 'json' }
import compactTwoWay from '../../../content/gear/compact-two-way.json' with { type: 'json' }
import topOverSub from '../../../content/gear/top-over-sub.json' with { type: 'json' }
import { add, type Complex, magnitude } from '../../../src/acoustics/complex.ts'
import type { Rig } from '../../../src/acoustics/field/rig.ts'
import { rigField } from '../../../src/acoustics/field/rig-field.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { type CrossoverSlope, crossoverResponse } from '../../../src/acoustics/radiation/crossover.ts'
import { sphereCabinet } from '../../../src/acoustics/radiation/sphere-cabinet.ts'
import { type Check, type CheckGroup, fromMemory } from '../check.ts'

const air = { ...makeAir(), speedOfSoundMps: 343.2 }
const db = (value: Complex) => 20 * Math.log10(magnitude(value))

const slope = (alignment: CrossoverSlope['alignment'], order: number): CrossoverSlope => ({
  alignment,
  order,
  frequencyHz: 1000,
})

const crossover: Check[] = [
  ...[2, 4, 8].flatMap((order) =>
    (['low-pass', 'high-pass'] as const).map(
      (kind): Check => ({
        id: `crossover-lr${order}-${kind}`,
        kind: 'outside',
        quantity: `Linkwitz–Riley ${kind} of order ${order} at its crossover frequency`,
        unit: 'dB',
        source: 'linkwitz-1976-crossover',
        place: 'half the pressure each',
        input: '1000 Hz',
        expected: 20 * Math.log10(0.5),
        tolerance: 1e-9,
        toleranceReason: 'exact; rounding only',
        computed: () => db(crossoverResponse(slope('linkwitz-riley', order), kind, 1000)),
      }),
    ),
  ),
  ...[4, 8].flatMap((order) =>
    [100, 700, 1000, 1300, 9000].map(
      (frequencyHz): Check => ({
        id: `crossover-lr${order}-sum-${frequencyHz}`,
        kind: 'law',
        quantity: `Linkwitz–Riley order ${order}: level of low-pass plus high-pass`,
        unit: 'dB',
        source: 'linkwitz-1976-crossover',
        place: 'flat sum',
        input: `crossover 1000 Hz, at ${frequencyHz} Hz`,
        expected: 0,
        tolerance: 1e-9,
        toleranceReason: 'exact; rounding only',
        computed: () => {
          const spec = slope('linkwitz-riley', order)
          return db(
            add(crossoverResponse(spec, 'low-pass', frequencyHz), crossoverResponse(spec, 'high-pass', frequencyHz)),
          )
        },
      }),
    ),
  ),
  ...[1, 2, 3, 4].map(
    (order): Check => ({
      id: `crossover-butterworth-${order}`,
      kind: 'practice',
      quantity: `Butterworth low-pass of order ${order}, an octave above its corner`,
      unit: 'dB',
      source: fromMemory,
      place: '|H|² = 1 / (1 + (f/f_c)^{2N})',
      input: '2000 Hz, corner 1000 Hz',
      expected: -10 * Math.log10(1 + 4 ** order),
      tolerance: 1e-9,
      toleranceReason: 'exact; rounding only',
      computed: () => db(crossoverResponse(slope('butterworth', order), 'low-pass', 2000)),
    }),
  ),
]

const rigs: [string, Rig][] = [
  ['top over sub', topOverSub as Rig],
  ['column on base', columnOnBase as Rig],
  ['compact two-way', compactTwoWay as Rig],
]

const slug = (name: string) => name.replaceAll(' ', '-')

const far: Check[] = rigs.flatMap(([name, rig]) =>
  [500, 4000].flatMap((frequencyHz) => {
    const field = rigField(rig, air)
    const levelDb = (zM: number) => db(field.transferAt({ xM: 0, yM: 1.6, zM }, frequencyHz))
    return [
      {
        id: `rig-${slug(name)}-doubling-${frequencyHz}`,
        kind: 'law',
        quantity: `Demo rig, ${name}: fall per doubling of distance, far away in free field`,
        unit: 'dB',
        source: 'kinsler-frey-fundamentals',
        place: 'spherical spreading',
        input: `${frequencyHz} Hz, 10 km to 20 km, no air absorption`,
        expected: 20 * Math.log10(2),
        tolerance: 0.001,
        toleranceReason: 'the sound seems to come from some tenths of a metre behind the face, which shows as 1/r',
        computed: () => levelDb(10_000) - levelDb(20_000),
      },
    ]
  }),
)

/**
 * The sub at wavelengths far longer than itself, from the closed form of a point on a sphere (Neumann's function), at
 * 2 m in front of and behind its front face: what the longer way round the box alone does.
 */
const sub = { widthM: 0.56, heightM: 0.62, depthM: 0.66 }
const subDrivers = [{ kind: 'piston' as const, radiusM: 0.001, xM: 0, yM: 0 }]
const surfaceM2 = 2 * (sub.widthM * sub.heightM + sub.widthM * sub.depthM + sub.heightM * sub.depthM)
const sphereRadiusM = Math.sqrt(surfaceM2 / (4 * Math.PI))
const frontQ = sphereRadiusM / (2 + sphereRadiusM)
const behindQ = sphereRadiusM / (2 - sphereRadiusM)

const geometry: Check = {
  id: 'rig-sub-static-front-behind',
  kind: 'law',
  quantity:
    'Sub-sized box with a point source, very long wave: level behind less level in front, 2 m from its front face',
  unit: 'dB',
  source: 'morse-ingard-theoretical-acoustics',
  place: 'limit kR → 0 of a point on a sphere, summed by hand',
  input: '0.56 × 0.62 × 0.66 m, 0.01 Hz',
  expected:
    20 * Math.log10((2 * behindQ) / (1 + behindQ) - Math.log(1 + behindQ)) -
    20 * Math.log10((2 * frontQ) / (1 - frontQ) + Math.log(1 - frontQ)),
  tolerance: 0.0001,
  toleranceReason: 'a piston of 1 mm stands for the point; it is 1/420 of the sphere’s radius',
  computed: () => {
    const radiation = sphereCabinet({ ...sub, drivers: subDrivers }, 0.01, air)
    return db(radiation.pressureAt({ xM: 0, yM: 0, zM: -2 })) - db(radiation.pressureAt({ xM: 0, yM: 0, zM: 2 }))
  },
}

/** Crossovers and the demo rigs. */
export const rigChecks: CheckGroup = { title: 'Crossovers and demo rigs', checks: [...crossover, ...far, geometry] }
