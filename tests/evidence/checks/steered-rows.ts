import { broadsideRow } from '../../../src/acoustics/field/broadside-row.ts'
import { interferenceLanesM } from '../../../src/acoustics/field/interference-lanes.ts'
import { radiatedPowerW } from '../../../src/acoustics/field/radiated-power.ts'
import { turnedTrio } from '../../../src/acoustics/field/turned-trio.ts'
import {
  amplitudeRatio,
  endFireLine,
  gradientPair,
  makeAir,
  monopole,
  type PlacedSource,
  pressureFrom,
} from '../../../src/acoustics/index.ts'
import { type Check, type CheckGroup, commonPractice, setAfter } from '../check.ts'
import { farAwayM, farPressure as farPressureOf } from '../far-pressure.ts'

const air = makeAir()
const c = air.speedOfSoundMps
/** Short, so that 100 km is far: what matters is kd. */
const spacingM = 0.1
/** Of the trio, in spacings. */
const pitch = 0.9
const centre = { xM: 0, yM: 0, zM: 0 }
/** Not a round angle, so that a pattern that forgets the yaw cannot pass. */
const yawRad = 0.37
const radiation = (frequencyHz: number) => monopole(frequencyHz, air)
const frequencyOf = (kd: number, apartM = spacingM): number => (kd * c) / (2 * Math.PI * apartM)
const farPressure = (sources: PlacedSource[], kd: number, angleDeg: number): number =>
  farPressureOf(sources, { frequencyHz: frequencyOf(kd), angleDeg, yawRad }, air)

const row = (count: number) => broadsideRow({ count, spacingM, centre, yawRad, radiation })
const pair = gradientPair({ spacingM, centre, yawRad, radiation }, air)
const endFire = (count: number) => endFireLine({ count, spacingM, centre, yawRad, radiation }, air)
const trio = turnedTrio({ spacingM, pitchM: pitch * spacingM, centre, yawRad, radiation }, air)
const louderMiddle = trio.map((source, i) =>
  i === 1 ? { ...source, gain: amplitudeRatio(20 * Math.log10(2)) } : source,
)

/** What 100 km instead of infinity can change for sources within `reach` spacings of the centre: strengths and bent wavefronts. */
const farTolerance = (count: number, reach: number, kd: number): number =>
  (count * (reach * spacingM + (kd * reach * reach * spacingM) / 2)) / farAwayM + 1e-8
const farReason =
  'bound: at 100 km a source is nearer or farther by its place over the distance, and the wavefront bent by k x²/2r'
const keyOf = (value: number): string => String(Number(value.toFixed(2))).replace('.', '-')
const fifteens = Array.from({ length: 13 }, (_, i) => 15 * i)
const radians = (degrees: number): number => (degrees * Math.PI) / 180

const rowForms: Check[] = [2, 4, 6].flatMap((count) =>
  [Math.PI / 2, Math.PI, 2 * Math.PI].flatMap((kd) =>
    fifteens.map((angleDeg): Check => {
      const psi = (kd / 2) * Math.sin(radians(angleDeg))
      return {
        id: `broadside-${count}-${keyOf(kd)}-${angleDeg}`,
        kind: 'outside',
        quantity: 'Boxes side by side re one box, closed form',
        unit: '1',
        source: 'kinsler-frey-fundamentals',
        place: 'chapter 7, the linear array: |sin Nψ/sin ψ|, ψ = (kd/2) sin θ',
        input: `${count} points ${keyOf(kd / 2 / Math.PI).replace('-', '.')} wavelengths apart, ${angleDeg}°`,
        // Where sin ψ vanishes, rounding apart, the quotient is N.
        expected: Math.abs(Math.sin(psi)) < 1e-9 ? count : Math.abs(Math.sin(count * psi) / Math.sin(psi)),
        tolerance: farTolerance(count, (count - 1) / 2, kd),
        toleranceReason: farReason,
        computed: () => farPressure(row(count), kd, angleDeg),
      }
    }),
  ),
)

const trioForms: Check[] = [0.3, 1, Math.PI / 2].flatMap((kd) =>
  [-60, ...fifteens].map((angleDeg): Check => {
    const kb = pitch * kd
    const behind = kd * (1 + Math.cos(radians(angleDeg)))
    const outer = 2 * Math.cos(kb * Math.sin(radians(angleDeg)))
    return {
      id: `turned-trio-${keyOf(kd)}-${angleDeg < 0 ? 'left-' : ''}${Math.abs(angleDeg)}`,
      kind: 'law',
      quantity: 'Three points, the middle one back, delayed and inverted, re one, closed form',
      unit: '1',
      source: 'kinsler-frey-fundamentals',
      place: 'section 7.1, point sources added: |2 cos(kb sin θ) − e^{−jkd (1 + cos θ)}|',
      input: `kd = ${kd.toFixed(3)}, b = ${pitch} d, ${angleDeg}°`,
      expected: Math.hypot(outer - Math.cos(behind), Math.sin(behind)),
      tolerance: farTolerance(3, 1, kd),
      toleranceReason: farReason,
      computed: () => farPressure(trio, kd, angleDeg),
    }
  }),
)

const limit = (
  id: string,
  quantity: string,
  input: string,
  expected: number,
  [sources, kd, angleDeg]: [PlacedSource[], number, number],
): Check => ({
  id,
  kind: 'law',
  quantity,
  unit: '1',
  source: 'kinsler-frey-fundamentals',
  place: 'section 7.1, point sources added; a limit worked by hand',
  input,
  expected,
  tolerance: farTolerance(sources.length, sources.length / 2, Math.max(kd, 0.01)) + (kd < 0.1 ? 4 * kd * kd : 0),
  toleranceReason: kd < 0.1 ? `${farReason}; the next term of the series is below 4 (kd)²` : farReason,
  computed: () => farPressure(sources, kd, angleDeg),
})

const [quarter, half, whole] = [Math.PI / 2, Math.PI, 2 * Math.PI]
const limits: Check[] = [
  {
    id: 'gradient-octave',
    kind: 'law',
    quantity: 'Gradient pair close together: how much its front falls from one octave to the next below',
    unit: 'dB',
    source: 'olson-1973-gradient',
    place: 'limit of small spacing: the pressure in front goes like kd',
    input: 'kd = 0.02 and 0.01, against one box at each',
    expected: 20 * Math.log10(2),
    tolerance: 0.001,
    toleranceReason: 'the next term of the series, (0.02)²/8, is 0.0004 dB; 100 km leaves less',
    computed: () => 20 * Math.log10(farPressure(pair, 0.02, 0) / farPressure(pair, 0.01, 0)),
  },
  limit('gradient-quarter-front', 'Gradient pair in front', 'a quarter wavelength apart', 2, [pair, quarter, 0]),
  limit('gradient-half-front', 'Gradient pair in front: silent', 'half a wavelength apart', 0, [pair, half, 0]),
  limit('end-fire-close-rear', 'Two boxes end-fire, behind', 'kd = 0.001', 2, [endFire(2), 0.001, 180]),
  limit('end-fire-quarter-rear', 'Two boxes end-fire, behind: silent', 'a quarter wavelength apart', 0, [
    endFire(2),
    quarter,
    180,
  ]),
  limit('end-fire-half-rear', 'Two boxes end-fire, behind: as in front', 'half a wavelength apart', 2, [
    endFire(2),
    half,
    180,
  ]),
  limit('broadside-close-side', 'Six boxes side by side, at the sides', 'kd = 0.001', 6, [row(6), 0.001, 90]),
  limit('broadside-half-side', 'Two boxes side by side, at the sides: silent', 'half a wavelength apart', 0, [
    row(2),
    half,
    90,
  ]),
  limit(
    'broadside-half-side-three',
    'Three boxes side by side, at the sides: one is left',
    'half a wavelength apart',
    1,
    [row(3), half, 90],
  ),
  limit('broadside-whole-side', 'Four boxes side by side, at the sides: full strength again', 'a wavelength apart', 4, [
    row(4),
    whole,
    90,
  ]),
  limit('broadside-behind', 'Four boxes side by side, behind: as in front', 'a quarter wavelength apart', 4, [
    row(4),
    quarter,
    180,
  ]),
  limit('turned-trio-close-front', 'Trio of points in front', 'kd = 0.001', 1, [trio, 0.001, 0]),
  limit('turned-trio-quarter-front', 'Trio of points in front', 'a quarter wavelength back', 3, [trio, quarter, 0]),
  limit('turned-trio-rear', 'Trio of points behind: one is left', 'a quarter wavelength back', 1, [trio, quarter, 180]),
  limit('turned-trio-louder-rear', 'Trio of points behind, the middle one 6 dB up: silent', 'kd = 1', 0, [
    louderMiddle,
    1,
    180,
  ]),
]

/** W/W₁ = Σ_i Σ_j g_i g_j cos ω(τ_i − τ_j) sin kd_ij/kd_ij; polarity is the sign of g. */
function mutualPower(sources: PlacedSource[], frequencyHz: number): number {
  let sum = 0
  for (const a of sources) {
    for (const b of sources) {
      const [dx, dz] = [a.position.xM - b.position.xM, a.position.zM - b.position.zM]
      const kd = (2 * Math.PI * frequencyHz * Math.hypot(dx, dz)) / c
      const coupling = kd === 0 ? 1 : Math.sin(kd) / kd
      const phase = 2 * Math.PI * frequencyHz * (a.delayS - b.delayS)
      sum += a.gain * a.polarity * b.gain * b.polarity * Math.cos(phase) * coupling
    }
  }
  return sum
}

/** At 0.1 m the power of several sources would count as added up, because a box has a size; so here the spacing is 1 m. */
const metre = { spacingM: 1, centre, yawRad, radiation }
const power: Check[] = (
  [
    ['gradient pair', gradientPair(metre, air)],
    ['turned trio', turnedTrio({ ...metre, pitchM: pitch }, air)],
    ['end-fire line of four', endFireLine({ ...metre, count: 4 }, air)],
    ['row of four', broadsideRow({ ...metre, count: 4 })],
  ] as const
).flatMap(([name, sources]) =>
  [0.3, 1, quarter, half].map((kd): Check => {
    const frequencyHz = frequencyOf(kd, 1)
    return {
      id: `steered-power-${name.replaceAll(' ', '-')}-${keyOf(kd)}`,
      kind: 'outside',
      quantity: `Power of a ${name}, from its far field all round, re one box alone`,
      unit: '1',
      source: 'waterhouse-1958-walls',
      place:
        'power of a source and its like a distance d away, sin kd/kd; here summed over all pairs with their delays',
      input: `1 m apart, kd = ${kd.toFixed(3)}`,
      expected: mutualPower(sources, frequencyHz),
      tolerance: (sources.length * (1.5 / 1e4)) ** 2,
      toleranceReason:
        'the power through a sphere does not depend on its radius; p²/2ρc at 10 km misses the intensity by the square of 1.5 m/10 km, for N sources at most N² times',
      computed: () => radiatedPowerW(sources, frequencyHz, air) / radiation(frequencyHz).powerW,
    }
  }),
)

const leftRight = { spacingM: 8, distanceM: 5 }
const walkStepM = 0.001
/** Places along the walk where a curve has its peaks (sign 1) or its dips (−1), by trying every millimetre to 12 m either side. */
function extremesM(curve: (xM: number) => number, sign: 1 | -1): number[] {
  const count = Math.round(24 / walkStepM)
  const values = Array.from({ length: count + 1 }, (_, i) => sign * curve(i * walkStepM - 12))
  return values.flatMap((value, i) =>
    i > 0 && i < count && value > (values[i - 1] as number) && value >= (values[i + 1] as number)
      ? [i * walkStepM - 12]
      : [],
  )
}

/** Greatest distance between the lanes so near the middle and the extremes found there; NaN if there are not as many. */
function laneErrorM(lanesM: number[], foundM: number[], withinM: number): number {
  const [lanes, found] = [lanesM, foundM].map((list) => list.filter((xM) => Math.abs(xM) < withinM)) as [
    number[],
    number[],
  ]
  if (lanes.length !== found.length || lanes.length === 0) return Number.NaN
  return Math.max(...lanes.map((xM, i) => Math.abs(xM - (found[i] as number))))
}

/** Both arrivals along the walk; the strengths as they are, or evened out. */
function laneCurve(frequencyHz: number, delayS: number, even: boolean): (xM: number) => number {
  const [left, right] = broadsideRow({ ...leftRight, count: 2, centre, yawRad: 0, radiation }) as [
    PlacedSource,
    PlacedSource,
  ]
  return (xM) => {
    const place = { xM, yM: 0, zM: leftRight.distanceM }
    const [a, b] = [left, { ...right, delayS }].map((source) => {
      const { re, im } = pressureFrom([source], [], place, frequencyHz, air)
      const size = even ? Math.hypot(re, im) : 1
      return { re: re / size, im: im / size }
    }) as [{ re: number; im: number }, { re: number; im: number }]
    return Math.hypot(a.re + b.re, a.im + b.im)
  }
}

const laneShared = { unit: 'm', source: 'kinsler-frey-fundamentals', place: 'section 7.1, two point sources added' }
const lanes: Check[] = (
  [
    [50, 0],
    [80, 0],
    [80, 0.002],
    [125, 0.004],
  ] as const
).flatMap(([frequencyHz, delayS]) =>
  (
    [
      ['strong', 'strongM', 1],
      ['weak', 'weakM', -1],
    ] as const
  ).map(
    ([word, kind, sign]): Check => ({
      ...laneShared,
      id: `lanes-${word}-${frequencyHz}-${delayS * 1000}-ms`,
      kind: 'method',
      quantity: `Lanes of ${word} bass before two subs, arrivals of even strength: farthest from what a search along the walk finds`,
      input: `8 m apart, walk at 5 m, ${frequencyHz} Hz, right one ${delayS * 1000} ms late`,
      expected: 0,
      tolerance: walkStepM * 1.01,
      toleranceReason: 'the search goes by millimetres',
      computed: () =>
        laneErrorM(
          interferenceLanesM({ ...leftRight, frequencyHz, delayS }, air)[kind],
          extremesM(laneCurve(frequencyHz, delayS, true), sign),
          11,
        ),
    }),
  ),
)

const dips: Check[] = [40, 63, 80, 125].map((frequencyHz) => ({
  ...laneShared,
  id: `lanes-dips-${frequencyHz}`,
  kind: 'method',
  quantity: 'Dips of the level between two subs, strengths as they are: farthest from their lanes of weak bass',
  input: `8 m apart, walk at 5 m, ${frequencyHz} Hz, in step`,
  expected: 0.15,
  relation: 'at most',
  tolerance: 0,
  toleranceReason: `${setAfter}: with unequal strengths the dips leave their lanes, and the lanes’ formula leaves that out`,
  computed: () =>
    laneErrorM(
      interferenceLanesM({ ...leftRight, frequencyHz }, air).weakM,
      extremesM(laneCurve(frequencyHz, 0, false), -1),
      leftRight.spacingM / 2,
    ),
}))

export const steeredRowChecks: CheckGroup = {
  title: 'Steered bass: rows, trios, lanes and power',
  checks: [
    {
      id: 'gradient-quarter-wave-63',
      kind: 'practice',
      quantity: 'Frequency at which a gradient pair is loudest in front',
      unit: 'Hz',
      source: commonPractice,
      place: 'rule of thumb: a quarter wavelength of 63 Hz is 1.36 m',
      input: '1.36 m apart, 20 °C, searched in steps of 0.05 Hz to 125 Hz',
      expected: 63,
      tolerance: 0.3,
      toleranceReason: '1.36 m is rounded to a centimetre, worth 0.23 Hz; the search steps by 0.05 Hz',
      computed: () => {
        const wide = gradientPair({ spacingM: 1.36, centre, yawRad, radiation }, air)
        const steps = Array.from({ length: 2101 }, (_, i) => 20 + i / 20)
        const levels = steps.map((frequencyHz) => farPressureOf(wide, { frequencyHz, angleDeg: 0, yawRad }, air))
        return steps[levels.indexOf(Math.max(...levels))] as number
      },
    },
    ...rowForms,
    ...trioForms,
    ...limits,
    ...power,
    ...lanes,
    ...dips,
  ],
}
