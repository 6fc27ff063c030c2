import { groundReflection, sphericalReflection } from '../../../src/acoustics/field/ground-reflection.ts'
import {
  amplitudeLevelDb,
  divide,
  flowResistivityPaSM2,
  groundAdmittance,
  magnitude,
  makeAir,
  monopole,
  type Point,
  pressureFrom,
  type Wall,
} from '../../../src/acoustics/index.ts'
import { faddeeva } from '../../../src/acoustics/special/faddeeva.ts'
import { type Check, type CheckGroup, setAfter } from '../check.ts'
import digits from '../reference/ground-digits.json' with { type: 'json' }

const air = { ...makeAir(), speedOfSoundMps: 343.2 }
const program = `ground-digits.py beside its digits, ${digits.source.split(', ').slice(1).join(', ')}`
const idPart = (value: number): string => String(value).replace('-', 'minus-').replace('.', '-')

type Scene = { sourceM: number; listenerM: number; alongM: number; frequencyHz: number }
const sceneId = ({ sourceM, listenerM, alongM, frequencyHz }: Scene) =>
  [sourceM, listenerM, alongM, frequencyHz].map(idPart).join('-')
const sceneText = ({ sourceM, listenerM, alongM, frequencyHz }: Scene) =>
  `source ${sourceM} m and listener ${listenerM} m up, ${alongM} m apart, ${frequencyHz} Hz`

/** Level of a point source over ground, re the same in free air. */
function overGroundDb({ sourceM, listenerM, alongM, frequencyHz }: Scene, resistivity: number): number {
  const ground: Wall = {
    point: { xM: 0, yM: 0, zM: 0 },
    normal: { xM: 0, yM: 1, zM: 0 },
    reflection: groundReflection(resistivity, air),
  }
  const source = {
    radiation: () => monopole(frequencyHz, air),
    position: { xM: 0, yM: sourceM, zM: 0 },
    yawRad: 0,
    gain: 1,
    delayS: 0,
    polarity: 1 as const,
  }
  const listener: Point = { xM: 0, yM: listenerM, zM: alongM }
  const level = (walls: Wall[]) =>
    amplitudeLevelDb(magnitude(pressureFrom([source], walls, listener, frequencyHz, air)))
  return level([ground]) - level([])
}

const functionChecks: Check[] = digits.faddeeva.map(({ z, value }) => {
  const [re, im] = z as [number, number]
  return {
    id: `ground-faddeeva-${idPart(re)}-${idPart(im)}`,
    kind: 'method',
    quantity: 'Faddeeva function, distance from its digits',
    unit: '1',
    source: 'weideman-1994-faddeeva',
    place: `against e^(−z²) erfc(−iz) with 40 digits; ${program}`,
    input: `z = ${re} ${im < 0 ? '−' : '+'} ${Math.abs(im)}i`,
    expected: 0,
    tolerance: 1e-12,
    toleranceReason: 'the paper has 32 terms at 1e-12 or better',
    computed: () => {
      const w = faddeeva({ re, im })
      return Math.hypot(w.re - (value[0] as number), w.im - (value[1] as number))
    },
  }
})

/** Z/ρc of a ground. */
const impedance = (resistivity: number, frequencyHz: number) =>
  divide({ re: 1, im: 0 }, groundAdmittance(resistivity, frequencyHz))

const impedanceChecks: Check[] = [
  ...digits.impedance,
  // Where 1000 f/σ is 1 the powers drop out.
  { frequencyHz: 200, re: 10.08, im: -11.9 },
].map(({ frequencyHz, re, im }) => ({
  id: `ground-impedance-${idPart(frequencyHz)}`,
  kind: 'outside',
  quantity: 'Impedance of grass over that of air, distance from the formula worked apart',
  unit: '1',
  source: 'delany-bazley-1970',
  place: frequencyHz === 200 ? '1 + 9.08 − j 11.9, where 1000 f/σ = 1' : `the fit for fibrous layers, ${program}`,
  input: `${flowResistivityPaSM2.grass / 1000} kPa·s/m², ${frequencyHz} Hz: ${re.toPrecision(3)} − j ${(-im).toPrecision(3)}`,
  expected: 0,
  tolerance: 1e-8 * Math.hypot(re, im),
  toleranceReason: 'ten digits are kept',
  computed: () => {
    const z = impedance(flowResistivityPaSM2.grass, frequencyHz)
    return Math.hypot(z.re - re, z.im - im)
  },
}))

const classChecks: Check[] = (
  [
    ['loose', 'C, uncompacted, loose ground (turf, grass, loose soil)', 80e3],
    ['grass', 'D, normal uncompacted ground (forest floors, pasture field)', 200e3],
    ['compacted', 'E, compacted field and gravel (compacted lawns, park area)', 500e3],
  ] as const
).map(([name, input, expected]) => ({
  id: `ground-class-${name}`,
  kind: 'outside',
  quantity: 'Flow resistivity of a class of ground',
  unit: 'Pa·s/m²',
  source: 'cnossos-eu',
  place: 'ground classes A to H, in a public transcription',
  input,
  expected,
  tolerance: 0,
  toleranceReason: 'copied from the table',
  computed: () => flowResistivityPaSM2[name],
}))

const integralChecks: Check[] = digits.overGrass.map((scene) => ({
  id: `ground-integral-${sceneId(scene)}`,
  kind: 'method',
  quantity: 'Over grass: what multiplies the mirror image, distance from the exact integral over plane waves',
  unit: '1',
  source: 'scipy',
  place: `Sommerfeld's integral by scipy.integrate.quad, ${program}`,
  input: sceneText(scene),
  expected: 0,
  tolerance: 0.005,
  toleranceReason: `${setAfter}: ours is the first term of a series in 1/(kr), and what follows is largest, 0.003, where the way is a wave long`,
  computed: () => {
    const { sourceM, listenerM, alongM, frequencyHz, re, im } = scene
    const pathM = Math.hypot(alongM, sourceM + listenerM)
    const q = groundReflection(flowResistivityPaSM2.grass, air)(frequencyHz, pathM, (sourceM + listenerM) / pathM)
    return Math.hypot(q.re - re, q.im - im)
  },
}))

const levelChecks: Check[] = digits.overGrass.map((scene) => ({
  id: `ground-level-${sceneId(scene)}`,
  kind: 'method',
  quantity: 'Level over grass re free air, against the exact integral over plane waves',
  unit: 'dB',
  source: 'scipy',
  place: `Sommerfeld's integral by scipy.integrate.quad, ${program}`,
  input: sceneText(scene),
  expected: scene.levelDb,
  tolerance: 0.1,
  toleranceReason:
    '0.005 of the mirror image is 0.05 dB where the sum is as large as the direct sound, more in a dip of 10 dB',
  computed: () => overGroundDb(scene, flowResistivityPaSM2.grass),
}))

/** What hangs on the formula below its range: the same scenes by Miki's with the same number, for a sub near the ground. */
const formulaChecks: Check[] = digits.overGrass
  .filter(({ frequencyHz, sourceM }) => frequencyHz < 200 && sourceM < 1)
  .map((scene) => ({
    id: `ground-formula-${sceneId(scene)}`,
    kind: 'method',
    quantity: 'Bass over grass, below the range of the formula: level against a later formula with the same number',
    unit: 'dB',
    source: 'delany-bazley-1970',
    place: `against Y. Miki, J. Acoust. Soc. Jpn. (E) 11 (1990), 19, in the exact integral; ${program}`,
    input: sceneText(scene),
    expected: scene.mikiDb,
    tolerance: 0.5,
    toleranceReason: 'bass is told in whole decibels',
    computed: () => overGroundDb(scene, flowResistivityPaSM2.grass),
  }))

/** The dip over grass at 100 m, both 2 m up, in steps of 1 Hz. */
function dipAt100M(): { frequencyHz: number; levelDb: number } {
  let lowest = { frequencyHz: 0, levelDb: Number.POSITIVE_INFINITY }
  for (let frequencyHz = 200; frequencyHz <= 800; frequencyHz++) {
    const scene = { sourceM: 2, listenerM: 2, alongM: 100, frequencyHz }
    const levelDb = overGroundDb(scene, flowResistivityPaSM2.grass)
    if (levelDb < lowest.levelDb) lowest = { frequencyHz, levelDb }
  }
  return lowest
}

const dip = {
  kind: 'practice' as const,
  source: 'salomons-2001-atmospheric',
  place: 'Figure D.3, as told by the documentation of a library for acoustics; the figure itself was not at hand',
  input: '200 kPa·s/m², source and listener 2 m up, 100 m apart',
}

const laws: Check[] = [
  {
    id: 'ground-hard-limit',
    kind: 'law',
    quantity: 'Ground through which hardly any air can be pushed: distance of what it throws back from all of it',
    unit: '1',
    source: 'chien-soroka-1975',
    place: 'admittance 0: the mirror image itself',
    input: '10⁹ Pa·s/m², 100 Hz, 10 m, cos ϑ = 0.2',
    expected: 0,
    tolerance: 0.001,
    toleranceReason: 'twice the admittance, 1/13 400, over cos ϑ is 0.00075',
    computed: () => {
      const { re, im } = groundReflection(1e9, air)(100, 10, 0.2)
      return Math.hypot(re - 1, im)
    },
  },
  {
    id: 'ground-wave-falls',
    kind: 'law',
    quantity: 'Far along soft ground, source and listener on it: what twice the distance takes',
    unit: 'dB',
    source: 'chien-soroka-1975',
    place: 'boundary loss −1/(2d²) for a long way: pressure falls as 1/r²',
    input: '80 kPa·s/m², 2 kHz, 20 to 40 km',
    expected: 40 * Math.log10(2),
    tolerance: 0.01,
    toleranceReason: 'the next term is 3/(2d²), below 0.001 at 20 km',
    computed: () => {
      const at = (alongM: number) =>
        overGroundDb({ sourceM: 0, listenerM: 0, alongM, frequencyHz: 2000 }, 80e3) - amplitudeLevelDb(alongM)
      return at(2e4) - at(4e4)
    },
  },
  {
    id: 'ground-grazing-plane',
    kind: 'law',
    quantity: 'Very far away just over soft ground: what comes back, as a plane wave along the ground would',
    unit: '1',
    source: 'chien-soroka-1975',
    place: 'R = (cos ϑ − β)/(cos ϑ + β) as cos ϑ goes to 0',
    input: 'β = 0.3 + 0.2j, kr = 10⁷, cos ϑ = 0',
    expected: -1,
    tolerance: 1e-5,
    toleranceReason: 'the boundary loss is 1/(kr β²), below 1e-6',
    computed: () => sphericalReflection({ re: 0.3, im: 0.2 }, 1e7, 0).re,
  },
  ...[1, 20, 100, 1000, 10000].map(
    (frequencyHz): Check => ({
      id: `ground-passive-${frequencyHz}`,
      kind: 'law',
      quantity: 'Grass takes energy and gives none: real part of its impedance over that of air',
      unit: '1',
      source: 'delany-bazley-1970',
      place: 'a passive ground; below the range of the fit too',
      input: `200 kPa·s/m², ${frequencyHz} Hz`,
      expected: 1,
      relation: 'at least',
      tolerance: 0,
      toleranceReason: 'the formula adds to 1',
      computed: () => impedance(flowResistivityPaSM2.grass, frequencyHz).re,
    }),
  ),
]

export const groundChecks: CheckGroup = {
  title: 'Grass and other ground',
  checks: [
    ...impedanceChecks,
    ...classChecks,
    ...integralChecks,
    ...levelChecks,
    {
      ...dip,
      id: 'ground-dip-100-m',
      quantity: 'Dip over grass, depth re free air',
      unit: 'dB',
      expected: -12.7,
      tolerance: 0.05,
      toleranceReason: 'it is told to 0.1 dB',
      computed: () => dipAt100M().levelDb,
    },
    {
      ...dip,
      id: 'ground-dip-100-m-frequency',
      quantity: 'Dip over grass, frequency',
      unit: 'Hz',
      expected: 395,
      tolerance: 2.5,
      toleranceReason: 'it is told to 5 Hz',
      computed: () => dipAt100M().frequencyHz,
    },
    ...formulaChecks,
    ...laws,
    ...functionChecks,
  ],
}
