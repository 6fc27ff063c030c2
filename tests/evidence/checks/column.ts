import { magnitude } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import {
  driverLine,
  equalGirthRadiusM,
  furtherBeamsRad,
  hankelSlopes,
  lineArrayFactor,
} from '../../../src/acoustics/radiation/driver-line.ts'
import { monopole } from '../../../src/acoustics/radiation/monopole.ts'
import { type Check, type CheckGroup, setAfter } from '../check.ts'
import digits from '../reference/driver-line-digits.json' with { type: 'json' }
import reference from '../reference/radiation.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')
const degrees = Math.PI / 180
const scriptPlace = `driver-line-digits.py beside the checks (${digits.source.split(', ').slice(1).join(', ')})`

/** 343.2 Hz has a wavelength of 1 m in this air, so a spacing in metres is one in wavelengths. */
const air = { ...makeAir(), speedOfSoundMps: 343.2 }
const oneMetreHz = 343.2

const factors: Check[] = digits.arrayFactor.map(({ count, spacingInWavelengths, angle, factor }) => ({
  id: `row-factor-${count}-${idPart(spacingInWavelengths)}-${idPart(angle)}`,
  kind: 'method',
  quantity: 'Array factor of equal sources in a row, re broadside',
  unit: '1',
  source: 'scipy',
  place: `scipy.special.diric and the plain sum of the sources, ${scriptPlace}`,
  input: `${count} sources ${spacingInWavelengths} wavelengths apart, ${angle}°`,
  expected: factor,
  tolerance: 1e-12,
  toleranceReason: 'double precision of a quotient of two sines',
  computed: () => lineArrayFactor(count, spacingInWavelengths, oneMetreHz, angle * degrees, air),
}))

const sourcesOfLimit = 1000

/** A thousand sources on the length of the line stand for the line itself. */
const lineLimit: Check[] = reference.uniformLine.levels.flatMap(({ lengthOverLambda, angle, level_dB }) =>
  angle.flatMap((angleDegrees, i): Check[] => {
    const expected = level_dB[i]
    if (angleDegrees === 0 || expected === null || expected === undefined) return []
    return [
      {
        id: `row-becomes-line-${idPart(lengthOverLambda)}-${angleDegrees}`,
        kind: 'outside',
        quantity: `${sourcesOfLimit} sources in a row against the uniform line, level re broadside`,
        unit: 'dB',
        source: 'kinsler-frey-fundamentals',
        place: 'section 7.3, formula of the line evaluated',
        input: `length ${lengthOverLambda} wavelengths, ${angleDegrees}°`,
        expected,
        tolerance: 0.006,
        toleranceReason: 'half of the last digit given, and 0.001 dB for a thousand sources instead of endlessly many',
        computed: () => {
          const spacingM = lengthOverLambda / sourcesOfLimit
          const factor = lineArrayFactor(sourcesOfLimit, spacingM, oneMetreHz, angleDegrees * degrees, air)
          return 20 * Math.log10(Math.abs(factor))
        },
      },
    ]
  }),
)

const rule = { source: 'kinsler-frey-fundamentals', place: 'chapter 7, the linear array: sin θ = m λ / d' }

const beams: Check[] = [
  {
    id: 'row-further-beam-angle',
    kind: 'law',
    quantity: 'Direction of the first further beam of a row in step',
    unit: '°',
    ...rule,
    input: 'spacing 2 wavelengths',
    expected: 30,
    tolerance: 1e-9,
    toleranceReason: 'sin 30° is exactly one half; rounding is left',
    computed: () => (furtherBeamsRad(2, oneMetreHz, air)[0] ?? Number.NaN) / degrees,
  },
  {
    id: 'row-further-beam-level',
    kind: 'law',
    quantity: 'A further beam is as strong as the first: size of the array factor there',
    unit: '1',
    ...rule,
    input: '7 sources 2 wavelengths apart, 30°',
    expected: 1,
    tolerance: 1e-9,
    toleranceReason: 'exact; rounding of the angle is left',
    computed: () => Math.abs(lineArrayFactor(7, 2, oneMetreHz, 30 * degrees, air)),
  },
  {
    id: 'row-first-null',
    kind: 'law',
    quantity: 'First null of a row: size of the array factor at sin θ = λ / N d',
    unit: '1',
    source: 'kinsler-frey-fundamentals',
    place: 'chapter 7, the linear array: sin Nψ/2 = 0',
    input: '8 sources half a wavelength apart, 14.48°',
    expected: 0,
    tolerance: 1e-12,
    toleranceReason: 'an exact zero; what is left is the rounding of the angle',
    computed: () => lineArrayFactor(8, 0.5, oneMetreHz, Math.asin(1 / 4), air),
  },
]

const slopes: Check[] = digits.hankelSlopes.map(({ n, x, re, im }) => ({
  id: `hankel-cylinder-slope-${n}-${idPart(x)}`,
  kind: 'method',
  quantity: 'Hankel function of whole order, derivative: relative error',
  unit: '1',
  source: 'scipy',
  place: `scipy.special.h2vp, ${scriptPlace}`,
  input: `n = ${n}, x = ${x}`,
  expected: 0,
  tolerance: 1e-11,
  toleranceReason: 'double precision over up to 90 steps of the recurrence, in the library as here',
  computed: () => {
    const row = hankelSlopes(x, n)
    return Math.hypot((row.re[n] as number) - re, (row.im[n] as number) - im) / Math.hypot(re, im)
  },
}))

const alone = (radiusM: number, driverRadiusM: number) => ({
  count: 1,
  spacingM: 1,
  driverRadiusM,
  columnRadiusM: radiusM,
})
const frequencyOf = (ka: number, radiusM: number) => (ka * air.speedOfSoundMps) / (2 * Math.PI * radiusM)

const patterns: Check[] = digits.cylinderPatterns.map(({ ka, radiusM, driverRadiusM, round, up, level_dB }) => ({
  id: `cylinder-driver-${idPart(ka)}-${round}-${up}`,
  kind: 'outside',
  quantity: 'A driver in the side of an endless rigid cylinder, far-field level re its axis',
  unit: 'dB',
  source: 'laird-cohen-1952-cylinder',
  place: `series summed with scipy.special.h2vp, ${scriptPlace}`,
  input: `ka = ${ka}, ${round}° round the cylinder, ${up}° up`,
  expected: level_dB,
  tolerance: 1e-6,
  toleranceReason: 'both sums are cut where their terms are below a millionth',
  computed: () => {
    const { farFieldDb } = driverLine(alone(radiusM, driverRadiusM), frequencyOf(ka, radiusM), air)
    // The direction "round" and "up" in the angles of a radiation: over the top it comes down on the far side.
    return farFieldDb(round * degrees, up * degrees)
  },
}))

/** Level on the axis far away, dB re a point source of the same volume velocity. */
function rePointSourceDb(ka: number): number {
  const radiusM = 0.1
  const frequencyHz = frequencyOf(ka, radiusM)
  const point = { xM: 0, yM: 0, zM: 1e4 }
  const here = driverLine(alone(radiusM, 0.0005), frequencyHz, air).pressureAt(point)
  return 20 * Math.log10(magnitude(here) / magnitude(monopole(frequencyHz, air).pressureAt(point)))
}

const limits: Check[] = [
  {
    id: 'cylinder-driver-low-limit',
    kind: 'law',
    quantity: 'A driver on a thin cylinder, level on axis re a point source',
    unit: 'dB',
    source: 'morse-vibration-and-sound',
    place: 'section 26, limit of low frequencies',
    input: 'ka = 0.001',
    expected: 0,
    tolerance: 0.001,
    toleranceReason: 'the limit is reached like (ka)² ln ka',
    computed: () => rePointSourceDb(0.001),
  },
  {
    id: 'cylinder-driver-high-limit',
    kind: 'law',
    quantity: 'A small driver on a thick cylinder, level on axis re a point source',
    unit: 'dB',
    source: 'morse-vibration-and-sound',
    place: 'section 26, limit of high frequencies: a flat wall behind the source doubles the pressure',
    input: 'ka = 150',
    expected: 20 * Math.log10(2),
    tolerance: 0.02,
    toleranceReason: 'at ka = 150 the wall is still a little curved',
    computed: () => rePointSourceDb(150),
  },
]

/** The demo column: eight drivers, 0.90 m tall, 0.11 m by 0.12 m. */
const demo = { count: 8, spacingM: 0.1125, driverRadiusM: 0.032, columnRadiusM: equalGirthRadiusM(0.11, 0.12) }

const solved: Check[] = digits.solvedColumn.map(({ frequency, round, level_dB, distanceM }) => ({
  id: `column-against-solved-box-${frequency}-${round}${distanceM ? '-near' : ''}`,
  kind: 'method',
  quantity: 'Column of eight drivers, its long cylinder against its real box solved, level re the axis',
  unit: 'dB',
  source: 'scipy',
  place: `boundary elements with NumPy, ${scriptPlace}; its two meshes agree within 0.11 dB`,
  input: `${frequency} Hz, ${round}° round the column, ${distanceM ? `${distanceM} m from the middle of the front` : 'far away'}`,
  expected: level_dB,
  tolerance: frequency > 1000 ? 3 : 1.5,
  toleranceReason:
    frequency > 1000
      ? `${setAfter}: a round body has no edges and no ends, and nothing told beforehand what that makes; the page calls it an estimate within 3 dB`
      : `${setAfter}: a round body has no edges and no ends, and nothing told beforehand what that makes; the page says within 1.5 dB`,
  computed: () => {
    const line = driverLine(demo, frequency, air)
    if (!distanceM) return line.farFieldDb(round * degrees, 0)
    const at = (zM: number) => magnitude(line.pressureAt({ xM: 0, yM: 0, zM }))
    return 20 * Math.log10(at(-distanceM) / at(distanceM))
  },
}))

/** Drivers in a row: what their paths make of the sum. */
export const rowChecks: CheckGroup = { title: 'Row of drivers', checks: [...factors, ...lineLimit, ...beams] }

/** The body of a column: a long hard cylinder, and how near it comes to the box that it stands for. */
export const columnChecks: CheckGroup = {
  title: 'Driver in a long round body',
  checks: [...slopes, ...patterns, ...limits, ...solved],
}
