import { add, magnitude, multiply, squaredMagnitude } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { portFlowRatio, usualPortQuality } from '../../../src/acoustics/radiation/port-flow.ts'
import type { Radiation } from '../../../src/acoustics/radiation/radiation.ts'
import type { RearPort } from '../../../src/acoustics/radiation/rear-port.ts'
import { withRearPort } from '../../../src/acoustics/radiation/rear-port-radiation.ts'
import { solveCabinet } from '../../../src/acoustics/radiation/solve-cabinet.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/port-digits.json' with { type: 'json' }

const air = { ...makeAir(), speedOfSoundMps: 343.2 }
const size = { widthM: 0.32, heightM: 0.56, depthM: 0.3 }
const cone = { kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.135 } as const
const port: RearPort = { diameterM: 0.1, xM: 0, yM: 0.1, tuningHz: 55 }
const idPart = (value: number): string => String(Number(value.toFixed(2))).replace('.', '-')
const program = digits.source.split(', ').slice(1).join(', ')

/** Share of the port in the flow against the same air integrated in time, as the distance of the two complex numbers. */
const shares: Check[] = digits.share.map(({ x, quality, re, im }) => ({
  id: `port-share-${quality}-${idPart(x)}`,
  kind: 'method',
  quantity: 'Port of a box: its flow over the cone’s, distance from the same air integrated in time',
  unit: '1',
  source: 'scipy',
  place: `port-digits.py beside its digits, ${program}`,
  input: `${idPart(x).replace('-', '.')} times the tuning, Q = ${quality}; the flow is ${Math.hypot(re, im).toPrecision(3)} times the cone’s`,
  expected: 0,
  tolerance: 1e-4 * Math.hypot(re, im),
  toleranceReason: 'five digits are kept',
  computed: () => {
    const flow = portFlowRatio(100 * x, 100, quality)
    return Math.hypot(flow.re - re, flow.im - im)
  },
}))

const sumDb = (frequencyHz: number, quality: number) =>
  10 * Math.log10(squaredMagnitude(add({ re: 1, im: 0 }, portFlowRatio(frequencyHz, 100, quality))))

const limits: Check[] = [
  {
    id: 'port-at-tuning',
    kind: 'law',
    quantity: 'Port at its tuning: flow over the cone’s is the quality of the resonance',
    unit: '1',
    source: 'kinsler-frey-fundamentals',
    place: 'Helmholtz resonator: amplification at resonance',
    input: `Q = ${usualPortQuality}`,
    expected: usualPortQuality,
    tolerance: 1e-12,
    toleranceReason: 'exact, up to rounding',
    computed: () => magnitude(portFlowRatio(100, 100)),
  },
  {
    id: 'port-slope-below',
    kind: 'law',
    quantity: 'Cone and port far below the tuning: what an octave down takes, beyond the cone’s own fall',
    unit: 'dB',
    source: 'beranek-mellow-acoustics',
    place: 'bass-reflex enclosure: 24 dB an octave below, of which a closed box has 12',
    input: '5 to 2.5 % of the tuning, Q = 1000',
    expected: 40 * Math.log10(2),
    tolerance: 0.05,
    toleranceReason: 'terms of the fourth order in f/f_b and friction are below 0.03 dB there',
    computed: () => sumDb(5, 1000) - sumDb(2.5, 1000),
  },
  {
    id: 'port-slope-above',
    kind: 'law',
    quantity: 'Port far above its tuning: what an octave up takes of its flow',
    unit: 'dB',
    source: 'beranek-mellow-acoustics',
    place: 'bass-reflex enclosure: the mass of the air in the port takes over',
    input: '20 to 40 times the tuning',
    expected: 40 * Math.log10(2),
    tolerance: 0.02,
    toleranceReason: '1/x² of the smaller frequency is 0.25 %, 0.02 dB',
    computed: () => 20 * Math.log10(magnitude(portFlowRatio(2000, 100)) / magnitude(portFlowRatio(4000, 100))),
  },
]

const kept = new Map<number, Radiation>()
/** The box with its port, solved by boundary elements at twenty panels a wavelength. */
function solvedBox(frequencyHz: number): Radiation {
  const known = kept.get(frequencyHz)
  if (known) return known
  const model: Parameters<typeof withRearPort>[0] = (cabinet, atHz, medium) =>
    solveCabinet(cabinet, atHz, medium, { method: 'boundary-elements', elementsPerWavelength: 20 })
  const radiation = withRearPort(model, { ...size, drivers: [cone] }, port, frequencyHz, air)
  kept.set(frequencyHz, radiation)
  return radiation
}

const placeNames = Object.keys(digits.places) as (keyof typeof digits.places)[]
const boxCommon = {
  kind: 'method',
  unit: 'dB',
  source: 'numpy',
  place: `port-digits.py beside its digits: the hole is a piston on the rear face there, nothing is mirrored; ${program}`,
} as const
const input = (frequencyHz: number, where: string) =>
  `0.32 × 0.56 × 0.30 m, cone of 21 cm, port of 10 cm tuned to 55 Hz, Q = ${usualPortQuality}; ${frequencyHz} Hz, ${where}`
const meshes = (scatterDb: number) => ({
  tolerance: 0.1 + scatterDb,
  toleranceReason: `0.1 dB is left of our mesh; ${scatterDb} dB is between two meshes of the other program`,
})

const near: Check[] = digits.box.flatMap(({ frequencyHz, value, scatter }) =>
  placeNames.map((where): Check => {
    const [xM, yM, zM] = digits.places[where] as [number, number, number]
    return {
      ...boxCommon,
      id: `port-box-${idPart(frequencyHz)}-${where.replace(' ', '-')}`,
      quantity: `Box with a port in its back: level ${where}, for a given flow of the cone`,
      input: input(frequencyHz, `at (${xM}, ${yM}, ${zM}) m`),
      expected: value[where],
      ...meshes(scatter[where]),
      computed: () =>
        20 *
        Math.log10(
          magnitude(solvedBox(frequencyHz).pressureAt({ xM, yM, zM })) / (2 * Math.PI * frequencyHz * air.densityKgM3),
        ),
    }
  }),
)

const far: Check[] = digits.box.flatMap(({ frequencyHz, value, scatter }) =>
  (
    [
      ['beside', 90],
      ['behind', 180],
    ] as const
  ).map(
    ([where, degrees]): Check => ({
      ...boxCommon,
      id: `port-box-far-${idPart(frequencyHz)}-${where}`,
      quantity: `Box with a port in its back, from far away: level ${where} re the front`,
      input: input(frequencyHz, `${degrees}°`),
      expected: value[`far ${where} re front`],
      ...meshes(scatter[`far ${where} re front`]),
      computed: () => solvedBox(frequencyHz).farFieldDb((degrees * Math.PI) / 180, 0),
    }),
  ),
)

/** Where the box is next to nothing, the flows of both are one point source. */
const points: Check[] = [55, 125].map((frequencyHz) => ({
  id: `port-as-points-${frequencyHz}`,
  kind: 'law',
  quantity:
    'Cone and port in a point: level far away with a box that is tiny beside the wave, re one point with both flows',
  unit: 'dB',
  source: 'kinsler-frey-fundamentals',
  place: 'section 7.1',
  input: `box of a twenty-fifth of the size, ${frequencyHz} Hz, mean of front and behind`,
  expected: 0,
  tolerance: 0.02,
  toleranceReason: 'front and behind differ by the dipole of cone and port, whose first order the mean takes out',
  computed: () => {
    const scale = 1 / 25
    const tiny = { widthM: size.widthM * scale, heightM: size.heightM * scale, depthM: size.depthM * scale }
    const cabinet = { ...tiny, drivers: [{ ...cone, radiusM: cone.radiusM * scale, yM: cone.yM * scale }] }
    const hole = { ...port, diameterM: 0.1 * scale, yM: 0.1 * scale }
    const radiation = withRearPort(solveCabinet, cabinet, hole, frequencyHz, air)
    const flow = add({ re: 1, im: 0 }, portFlowRatio(frequencyHz, port.tuningHz))
    const free = multiply(flow, { re: (2 * Math.PI * frequencyHz * air.densityKgM3) / (4 * Math.PI * 1000), im: 0 })
    const levels = [1000, -1000].map((zM) => magnitude(radiation.pressureAt({ xM: 0, yM: 0, zM })) / magnitude(free))
    return 20 * Math.log10(((levels[0] as number) + (levels[1] as number)) / 2)
  },
}))

/** A port in the back of a box: its share of the flow, and the box that plays with it. */
export const portChecks: CheckGroup = {
  title: 'A port in the back',
  checks: [...shares, ...limits, ...points, ...near, ...far],
}
