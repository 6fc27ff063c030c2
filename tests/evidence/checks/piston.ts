import { baffledPistonDb } from '../../../src/acoustics/radiation/baffled-piston.ts'
import { gaussLegendre } from '../../../src/acoustics/special/gauss-legendre.ts'
import type { Check, CheckGroup } from '../check.ts'
import reference from '../reference/radiation.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const table = reference.baffledPiston
const source = 'kinsler-frey-fundamentals'
const degrees = Math.PI / 180

const levels: Check[] = table.levels.flatMap(({ ka, angle, level_dB }) =>
  angle.flatMap((angleDegrees, i) =>
    angleDegrees === 0
      ? []
      : [
          {
            id: `piston-level-ka-${idPart(ka)}-${idPart(angleDegrees)}`,
            kind: 'outside',
            quantity: 'Piston in an infinite baffle, level re its axis',
            unit: 'dB',
            source,
            place: 'section 7.4, formula evaluated',
            input: `ka = ${ka}, ${angleDegrees}°`,
            expected: level_dB[i] as number,
            tolerance: 0.005,
            toleranceReason: 'half of the last digit given',
            computed: () => baffledPistonDb(ka, angleDegrees * degrees),
          },
        ],
  ),
)

/** Half-angle in degrees at which the level has fallen to levelDb, by bisection on the main lobe. */
function halfAngleDegrees(ka: number, levelDb: number): number {
  let low = 0
  let high = Math.asin(Math.min(1, 3.8 / ka))
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2
    if (baffledPistonDb(ka, middle) > levelDb) low = middle
    else high = middle
  }
  return low / degrees
}

const beamwidths: Check[] = table.beamwidths.flatMap(({ ka, beamwidth3dB, beamwidth6dB }) =>
  (
    [
      ['−3 dB', beamwidth3dB, 20 * Math.log10(Math.SQRT1_2)],
      ['−6 dB', beamwidth6dB, 20 * Math.log10(0.5)],
    ] as const
  ).flatMap(([name, expected, levelDb]) =>
    expected === null
      ? []
      : [
          {
            id: `piston-beamwidth-ka-${idPart(ka)}-${name.slice(1, 2)}db`,
            kind: 'outside',
            quantity: `Piston in an infinite baffle, full beamwidth at ${name}`,
            unit: '°',
            source,
            place: 'section 7.4, formula solved',
            input: `ka = ${ka}`,
            expected,
            tolerance: 0.005,
            toleranceReason: 'half of the last digit given',
            computed: () => 2 * halfAngleDegrees(ka, levelDb),
          },
        ],
  ),
)

const marks: Check[] = [
  ...table.zeros_ka_sin_theta.map(
    (v): Check => ({
      id: `piston-null-${idPart(v)}`,
      kind: 'outside',
      quantity: 'Piston in an infinite baffle, level at a null of its pattern',
      unit: 'dB',
      source,
      place: 'zeros of J₁',
      input: `ka sin θ = ${v}`,
      expected: -100,
      relation: 'at most',
      tolerance: 0,
      toleranceReason: 'an exact zero; five printed decimals leave less than 1e-5 of the axis',
      computed: () => baffledPistonDb(v, Math.PI / 2),
    }),
  ),
  ...(
    [
      ['half power', table.minus3dB_ka_sin_theta, 20 * Math.log10(Math.SQRT1_2)],
      ['half pressure', table.minus6dB_ka_sin_theta, 20 * Math.log10(0.5)],
      ['−10 dB', table.minus10dB_ka_sin_theta, -10],
    ] as const
  ).map(
    ([name, v, expected]): Check => ({
      id: `piston-point-${idPart(v)}`,
      kind: 'outside',
      quantity: `Piston in an infinite baffle, level at its ${name} point`,
      unit: 'dB',
      source,
      place: 'formula solved',
      input: `ka sin θ = ${v}`,
      expected,
      tolerance: 0.0001,
      toleranceReason: 'the argument has five decimals, where the slope is below 7 dB per unit',
      computed: () => baffledPistonDb(v, Math.PI / 2),
    }),
  ),
  ...table.sideLobes.map(
    ({ ka_sin_theta, level_dB }): Check => ({
      id: `piston-side-lobe-${idPart(ka_sin_theta)}`,
      kind: 'outside',
      quantity: 'Piston in an infinite baffle, level of a side lobe',
      unit: 'dB',
      source,
      place: 'formula solved',
      input: `ka sin θ = ${ka_sin_theta}`,
      expected: level_dB,
      tolerance: 0.005,
      toleranceReason: 'half of the last digit of the coarser row',
      computed: () => baffledPistonDb(ka_sin_theta, Math.PI / 2),
    }),
  ),
]

/** Directivity index from the pattern alone: Q = 2 / ∫ D² sin θ dθ over the half-space. */
function directivityIndexDb(ka: number): number {
  const { nodes, weights } = gaussLegendre(80)
  let sum = 0
  for (let i = 0; i < nodes.length; i++) {
    const cosAngle = (1 + (nodes[i] as number)) / 2
    sum += ((weights[i] as number) / 2) * 10 ** (baffledPistonDb(ka, Math.acos(cosAngle)) / 10)
  }
  return 10 * Math.log10(2 / sum)
}

const directivity: Check[] = table.directivityFactor.map(({ ka, DI_dB }) => ({
  id: `piston-directivity-ka-${idPart(ka)}`,
  kind: 'outside',
  quantity: 'Piston in an infinite baffle, directivity index by integration of its pattern',
  unit: 'dB',
  source: 'beranek-mellow-acoustics',
  place: 'section 13.7, Q = (ka)² / (1 − J₁(2ka)/ka)',
  input: `ka = ${ka}`,
  expected: DI_dB,
  tolerance: 0.0006,
  toleranceReason: 'half of the last digit given, and a little for printing',
  computed: () => directivityIndexDb(ka),
}))

/** The piston in an infinite baffle against its textbook formulas. */
export const pistonChecks: CheckGroup = {
  title: 'Piston in a baffle',
  checks: [...levels, ...beamwidths, ...marks, ...directivity],
}
