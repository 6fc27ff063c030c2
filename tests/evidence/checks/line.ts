import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { uniformLineDb } from '../../../src/acoustics/radiation/uniform-line.ts'
import type { Check, CheckGroup } from '../check.ts'
import reference from '../reference/radiation.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const table = reference.uniformLine
const source = 'kinsler-frey-fundamentals'
const degrees = Math.PI / 180
const air = { ...makeAir(), speedOfSoundMps: 343.2 }

/** Level of a line of so many wavelengths; 343.2 Hz has a wavelength of 1 m. */
const levelDb = (lengthOverLambda: number, angleRad: number) => uniformLineDb(lengthOverLambda, 343.2, angleRad, air)

const levels: Check[] = table.levels.flatMap(({ lengthOverLambda, angle, level_dB }) =>
  angle.flatMap((angleDegrees, i): Check[] => {
    if (angleDegrees === 0) return []
    const expected = level_dB[i]
    const common = {
      id: `line-level-${idPart(lengthOverLambda)}-${angleDegrees}`,
      kind: 'outside' as const,
      unit: 'dB',
      source,
      place: 'section 7.3, formula evaluated',
      input: `length ${lengthOverLambda} wavelengths, ${angleDegrees}°`,
      computed: () => levelDb(lengthOverLambda, angleDegrees * degrees),
    }
    return expected === null || expected === undefined
      ? [
          {
            ...common,
            quantity: 'Uniform line, level at a null',
            expected: -200,
            relation: 'at most',
            tolerance: 0,
            toleranceReason: 'an exact zero; what is left is the rounding of the angle',
          },
        ]
      : [
          {
            ...common,
            quantity: 'Uniform line, level re broadside',
            expected,
            tolerance: 0.005,
            toleranceReason: 'half of the last digit given',
          },
        ]
  }),
)

/** Half-angle in degrees at which the level has fallen to levelDb, by bisection on the main lobe. */
function halfAngleDegrees(lengthOverLambda: number, toDb: number): number {
  let low = 0
  let high = Math.asin(1 / lengthOverLambda)
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2
    if (levelDb(lengthOverLambda, middle) > toDb) low = middle
    else high = middle
  }
  return low / degrees
}

const beamwidths: Check[] = table.beamwidths.flatMap(({ lengthOverLambda, beamwidth3dB, beamwidth6dB }) =>
  (
    [
      ['3', beamwidth3dB, 20 * Math.log10(Math.SQRT1_2)],
      ['6', beamwidth6dB, 20 * Math.log10(0.5)],
    ] as const
  ).map(([name, expected, toDb]) => ({
    id: `line-beamwidth-${idPart(lengthOverLambda)}-${name}db`,
    kind: 'outside',
    quantity: `Uniform line, full beamwidth at −${name} dB`,
    unit: '°',
    source,
    place: 'section 7.3, formula solved',
    input: `length ${lengthOverLambda} wavelengths`,
    expected,
    tolerance: 0.0005,
    toleranceReason: 'half of the last digit given',
    computed: () => 2 * halfAngleDegrees(lengthOverLambda, toDb),
  })),
)

const sideLobe: Check = {
  id: 'line-first-side-lobe',
  kind: 'outside',
  quantity: 'Uniform line, level of its first side lobe',
  unit: 'dB',
  source,
  place: 'maximum of |sin u / u| beyond its first zero',
  input: `u = ${table.firstSideLobe.u}`,
  expected: table.firstSideLobe.level_dB,
  tolerance: 0.0005,
  toleranceReason: 'half of the last digit given',
  computed: () => levelDb(table.firstSideLobe.u / Math.PI, Math.PI / 2),
}

/** The uniform line against its textbook formula. */
export const lineChecks: CheckGroup = { title: 'Uniform line', checks: [...levels, ...beamwidths, sideLobe] }
