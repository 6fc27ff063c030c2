import { magnitude } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { beamwidthRad } from '../../../src/acoustics/radiation/beamwidth.ts'
import { hornMouthPattern } from '../../../src/acoustics/radiation/horn-mouth.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/horn-mouth-digits.json' with { type: 'json' }
import reference from '../reference/radiation.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const degrees = Math.PI / 180
const line = reference.uniformLine
const textbook = 'kinsler-frey-fundamentals'

/** 343.2 Hz has a wavelength of 1 m, so sizes in metres are sizes in wavelengths. */
const air = { ...makeAir(), speedOfSoundMps: 343.2 }
const oneMetreWaveHz = 343.2

type Mouth = { width: number; height?: number; horizontalDeg?: number; verticalDeg?: number }

/** Level of a mouth (sizes in wavelengths) in a direction, dB re straight ahead. */
function mouthDb(
  { width, height = 0.1, horizontalDeg = 0, verticalDeg = 0 }: Mouth,
  horizontalRad: number,
  verticalRad = 0,
): number {
  const pattern = hornMouthPattern(
    {
      mouthWidthM: width,
      mouthHeightM: height,
      horizontalCoverageRad: horizontalDeg * degrees,
      verticalCoverageRad: verticalDeg * degrees,
    },
    oneMetreWaveHz,
    air,
  )
  return 20 * Math.log10(magnitude(pattern(horizontalRad, verticalRad)))
}

const integrals: Check[] = digits.levels.map(({ mouthOverWavelength, coverageDeg, angleDeg, levelDb }) => ({
  id: `horn-mouth-${coverageDeg}-${idPart(mouthOverWavelength)}-${angleDeg}`,
  kind: 'method',
  quantity: 'Horn mouth in a baffle, level re straight ahead, by another integration',
  unit: 'dB',
  source: textbook,
  place: `section 7.4, integral over the aperture; digits by horn-mouth-digits.py, ${digits.source.split(', ').slice(1).join(', ')}`,
  input: `coverage ${coverageDeg}°, mouth ${mouthOverWavelength} wavelengths, ${angleDeg}°`,
  expected: levelDb,
  tolerance: 1e-8,
  toleranceReason: 'nine decimals given; the rest is room for rounding at low levels',
  computed: () => mouthDb({ width: mouthOverWavelength, horizontalDeg: coverageDeg }, angleDeg * degrees),
}))

const fresnel: Check[] = digits.fresnel.map(({ mouthOverWavelength, coverageDeg, angleDeg, levelDb }) => ({
  id: `horn-mouth-fresnel-${coverageDeg}-${mouthOverWavelength}-${angleDeg}`,
  kind: 'method',
  quantity: 'Narrow horn, level re straight ahead, by Fresnel integrals',
  unit: 'dB',
  source: 'dlmf',
  place: 'section 7.2(iii); values of the integrals by SciPy, horn-mouth-digits.py',
  input: `coverage ${coverageDeg}°, mouth ${mouthOverWavelength} wavelengths, ${angleDeg}°`,
  expected: levelDb,
  tolerance: 0.02,
  toleranceReason:
    'the closed form leaves out the phase beyond x², up to 0.001 rad here, and the fall of the amplitude, 0.1 %',
  computed: () => mouthDb({ width: mouthOverWavelength, horizontalDeg: coverageDeg }, angleDeg * degrees),
}))

const flatLevels: Check[] = line.levels.flatMap(({ lengthOverLambda, angle, level_dB }) =>
  angle.flatMap((angleDegrees, i): Check[] => {
    const expected = level_dB[i]
    if (angleDegrees === 0 || expected === null || expected === undefined) return []
    return [
      {
        id: `horn-mouth-flat-${idPart(lengthOverLambda)}-${angleDegrees}`,
        kind: 'outside',
        quantity: 'Mouth with a flat wavefront, level re straight ahead: the uniform line',
        unit: 'dB',
        source: textbook,
        place: 'section 7.3, formula evaluated',
        input: `width ${lengthOverLambda} wavelengths, ${angleDegrees}°`,
        expected,
        tolerance: 0.005,
        toleranceReason: 'half of the last digit given',
        computed: () => mouthDb({ width: lengthOverLambda }, angleDegrees * degrees),
      },
    ]
  }),
)

/** 20 lg |sin u / u| of a side that is so many wavelengths long along the direction. */
const flatSideDb = (wavelengths: number): number =>
  20 * Math.log10(Math.abs(Math.sin(Math.PI * wavelengths) / (Math.PI * wavelengths)))

const oblique: Check = {
  id: 'horn-mouth-flat-oblique',
  kind: 'outside',
  quantity: 'Mouth with a flat wavefront in a slanting direction: the product of two uniform lines',
  unit: 'dB',
  source: textbook,
  place: 'section 7.3, the formula for each side',
  input: '2 by 1.3 wavelengths, 25° across, 35° up',
  // With u = π L/λ times the direction's sine along each side: sin 25° cos 35° across and sin 35° up.
  expected: flatSideDb(2 * Math.sin(25 * degrees) * Math.cos(35 * degrees)) + flatSideDb(1.3 * Math.sin(35 * degrees)),
  tolerance: 1e-9,
  toleranceReason: 'exact relation; rounding only',
  computed: () => mouthDb({ width: 2, height: 1.3 }, 25 * degrees, 35 * degrees),
}

const beamwidths: Check[] = line.beamwidths.flatMap(({ lengthOverLambda, beamwidth3dB, beamwidth6dB }) =>
  (
    [
      ['3', beamwidth3dB, 10 * Math.log10(2)],
      ['6', beamwidth6dB, 20 * Math.log10(2)],
    ] as const
  ).map(([name, expected, dropDb]) => ({
    id: `horn-mouth-flat-beamwidth-${idPart(lengthOverLambda)}-${name}db`,
    kind: 'outside',
    quantity: `Mouth with a flat wavefront, full beamwidth at −${name} dB`,
    unit: '°',
    source: textbook,
    place: 'section 7.3, formula solved',
    input: `width ${lengthOverLambda} wavelengths`,
    expected,
    tolerance: 0.0005,
    toleranceReason: 'half of the last digit given',
    computed: () =>
      (beamwidthRad((angleRad) => mouthDb({ width: lengthOverLambda }, angleRad), { dropDb }) ?? Number.NaN) / degrees,
  })),
)

const ruleAgainstLine: Check[] = reference.horn.values.map(({ angleDegrees, mouth_m, frequency }) => ({
  id: `horn-rule-flat-mouth-${angleDegrees}-${idPart(mouth_m)}`,
  kind: 'outside',
  quantity: 'Beamwidth of a flat mouth at the frequency of the horn rule, beside the angle of the rule',
  unit: '°',
  source: 'keele-1975-exponential-horns',
  place: 'the rule read as a statement about a mouth that moves evenly',
  input: `${angleDegrees}°, mouth ${mouth_m} m, ${frequency} Hz`,
  expected: angleDegrees,
  tolerance: 0.1 * angleDegrees,
  toleranceReason: 'the rule is given to one digit, 10⁶ inch degrees Hz; a tenth is what a rule of thumb should keep',
  computed: () =>
    (beamwidthRad((angleRad) => mouthDb({ width: (mouth_m * frequency) / 343.2 }, angleRad)) ?? Number.NaN) / degrees,
}))

const wideBand: Check[] = ([40, 60, 90, 120] as const).map((coverageDeg) => ({
  id: `horn-mouth-edge-${coverageDeg}`,
  kind: 'law',
  quantity: 'Mouth of many wavelengths, level at the edge of its coverage re well inside',
  unit: 'dB',
  source: 'dlmf',
  place: 'section 7.2(iii): the Fresnel integral up to the edge is half of the whole one',
  input: `coverage ${coverageDeg}°, mouth 3000 wavelengths; inside: mean power over 0 to 0.7 of the half-angle`,
  expected: -20 * Math.log10(2),
  tolerance: 0.1,
  toleranceReason: 'what the far edge of the mouth still adds, some 1 % of the pressure at 3000 wavelengths',
  computed: () => {
    const halfRad = (coverageDeg / 2) * degrees
    const pattern = hornMouthPattern(
      {
        mouthWidthM: 30,
        mouthHeightM: 0.01,
        horizontalCoverageRad: coverageDeg * degrees,
        verticalCoverageRad: 0,
      },
      100 * oneMetreWaveHz,
      air,
    )
    const power = (angleRad: number) => magnitude(pattern(angleRad, 0)) ** 2
    const count = 400
    let sum = 0
    for (let i = 0; i < count; i++) sum += power(((i + 0.5) / count) * 0.7 * halfRad)
    return 10 * Math.log10((power(halfRad) * count) / sum)
  },
}))

/** The rectangular mouth with the wavefront of its coverage angles. */
export const hornMouthChecks: CheckGroup = {
  title: 'Pattern of a horn mouth',
  checks: [...integrals, ...fresnel, ...flatLevels, oblique, ...beamwidths, ...ruleAgainstLine, ...wideBand],
}
