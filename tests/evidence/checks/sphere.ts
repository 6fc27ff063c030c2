import { magnitude } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { capVelocityCoefficients } from '../../../src/acoustics/radiation/cap-velocity.ts'
import { monopole } from '../../../src/acoustics/radiation/monopole.ts'
import { type SpherePistonShape, spherePiston } from '../../../src/acoustics/radiation/sphere-piston.ts'
import type { SphereRadiation } from '../../../src/acoustics/radiation/sphere-radiation.ts'
import { gaussLegendre } from '../../../src/acoustics/special/gauss-legendre.ts'
import { legendrePolynomials } from '../../../src/acoustics/special/legendre.ts'
import type { Check, CheckGroup, Headline } from '../check.ts'
import headline from '../reference/headline-digits.json' with { type: 'json' }
import reference from '../reference/radiation.json' with { type: 'json' }
import digits from '../reference/radiation-digits.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const source = 'beranek-mellow-acoustics'
const degrees = Math.PI / 180
const air = { ...makeAir(), speedOfSoundMps: 343.2, densityKgM3: 1.2 }
const frequencyHz = (kR: number, radiusM = 1) => (kR * air.speedOfSoundMps) / (2 * Math.PI * radiusM)

/** A cap so small that it is a point: at kR = 10 its finite size changes nothing above 1e-7 dB. */
const point = (kR: number) =>
  spherePiston({ radiusM: 1, capHalfAngleRad: 1e-4, motion: 'radial' }, frequencyHz(kR), air)

/** Far-field level re the same volume velocity as a point source in free space at the sphere's centre, dB. */
function reFreeSpaceDb(radiation: SphereRadiation, angleRad: number): number {
  const freeSpace = (radiation.frequencyHz * air.densityKgM3) / 2
  return 20 * Math.log10(magnitude(radiation.farField(Math.cos(angleRad))) / freeSpace)
}

const halfDigit =
  'half of the last digit given; the table is for a true point, the cap of 1e-4 rad for one within 1e-7 dB'

const points: Check[] = reference.sphere.pointSource.flatMap(({ ka, angle, level_dB, powerRatio, DI_dB, ...rest }) => {
  const common = {
    unit: 'dB',
    source,
    place: 'section 12.5, series evaluated',
    tolerance: 0.0005,
    toleranceReason: halfDigit,
  }
  return [
    ...angle.map(
      (angleDegrees, i): Check => ({
        ...common,
        id: `sphere-point-ka-${idPart(ka)}-${angleDegrees}`,
        kind: 'outside',
        quantity: 'Point source on a rigid sphere, level re the same source in free space',
        input: `kR = ${ka}, ${angleDegrees}°`,
        expected: level_dB[i] as number,
        computed: () => reFreeSpaceDb(point(ka), angleDegrees * degrees),
      }),
    ),
    {
      ...common,
      id: `sphere-point-power-ka-${idPart(ka)}`,
      kind: 'outside',
      quantity: 'Point source on a rigid sphere, power re the same source in free space',
      unit: '1',
      input: `kR = ${ka}`,
      expected: powerRatio,
      tolerance: 5e-6,
      toleranceReason: 'half of the last digit given',
      computed: () => point(ka).powerW / monopole(frequencyHz(ka), air).powerW,
    },
    {
      ...common,
      id: `sphere-point-directivity-ka-${idPart(ka)}`,
      kind: 'outside',
      quantity: 'Point source on a rigid sphere, directivity index',
      input: `kR = ${ka}`,
      expected: DI_dB,
      computed: () => point(ka).directivityIndexDb,
    },
    {
      ...common,
      id: `sphere-point-front-back-ka-${idPart(ka)}`,
      kind: 'outside',
      quantity: 'Point source on a rigid sphere, level in front less level behind',
      input: `kR = ${ka}`,
      expected: rest.frontMinusBack_dB,
      computed: () => -point(ka).farFieldDb(Math.PI, 0),
    },
  ]
})

const caps: Check[] = reference.sphere.capHalfAngle25.flatMap(({ ka, angle, level_dB, frontMinusBack_dB }) => {
  const cap = () => spherePiston({ radiusM: 1, capHalfAngleRad: 25 * degrees, motion: 'radial' }, frequencyHz(ka), air)
  const common = {
    unit: 'dB',
    source,
    place: 'section 12.6, series evaluated',
    tolerance: 0.0005,
    toleranceReason: 'half of the last digit given',
  }
  return [
    ...angle.map(
      (angleDegrees, i): Check => ({
        ...common,
        id: `sphere-cap-ka-${idPart(ka)}-${angleDegrees}`,
        kind: 'outside',
        quantity: 'Cap of 25° on a rigid sphere, level re the same volume velocity in free space',
        input: `kR = ${ka}, ${angleDegrees}°`,
        expected: level_dB[i] as number,
        computed: () => reFreeSpaceDb(cap(), angleDegrees * degrees),
      }),
    ),
    {
      ...common,
      id: `sphere-cap-front-back-ka-${idPart(ka)}`,
      kind: 'outside',
      quantity: 'Cap of 25° on a rigid sphere, level in front less level behind',
      input: `kR = ${ka}`,
      expected: frontMinusBack_dB,
      computed: () => -cap().farFieldDb(Math.PI, 0),
    },
  ]
})

const pressures: Check[] = digits.spherePressures.map((row) => ({
  id: `sphere-digits-${row.motion}-${row.capHalfAngleDegrees}-${idPart(row.ka)}-${idPart(row.distanceM)}-${row.angleDegrees}`,
  kind: 'outside',
  quantity: 'Cap on a rigid sphere, complex pressure at a place: relative error',
  unit: '1',
  source: 'morse-ingard-theoretical-acoustics',
  place: `section 7.2; digits by radiation-digits.py, ${digits.source.split(', ').slice(1).join(', ')}`,
  input:
    `${row.motion} cap of ${row.capHalfAngleDegrees}°, kR = ${row.ka}, ` +
    `${row.distanceM / row.radiusM} radii from the centre, ${row.angleDegrees}°`,
  expected: 0,
  tolerance: 1e-8,
  toleranceReason: 'the accuracy that the function states away from the surface',
  computed: () => {
    const shape: SpherePistonShape = {
      radiusM: row.radiusM,
      capHalfAngleRad: row.capHalfAngleDegrees * degrees,
      motion: row.motion === 'axial' ? 'axial' : 'radial',
    }
    const angleRad = row.angleDegrees * degrees
    const { re, im } = spherePiston(shape, frequencyHz(row.ka, row.radiusM), air).pressureAt({
      xM: row.distanceM * Math.sin(angleRad),
      yM: 0,
      zM: row.distanceM * Math.cos(angleRad),
    })
    const expectedRe = Number(row.pressurePa[0])
    const expectedIm = Number(row.pressurePa[1])
    return Math.hypot(re - expectedRe, im - expectedIm) / Math.hypot(expectedRe, expectedIm)
  },
}))

/**
 * For wavelengths far longer than the sphere the pressure of a point source on it has a closed form (Neumann's function
 * of the sphere), with q = R/r:  2q/(1 − q) + ln(1 − q) in front, 2q/(1 + q) − ln(1 + q) behind, in units of jωρQ/4πR.
 */
const staticLimit: Check[] = [1.05, 1.2, 2, 8].flatMap((radii) =>
  ([1, -1] as const).map((side): Check => {
    const q = 1 / radii
    return {
      id: `sphere-static-${idPart(radii)}-${side > 0 ? 'front' : 'behind'}`,
      kind: 'law',
      quantity: 'Point source on a sphere, wave much longer than the sphere: pressure re a point source at one radius',
      unit: 'dB',
      source: 'morse-ingard-theoretical-acoustics',
      place: 'limit kR → 0 summed by hand: image and line of sinks inside the sphere',
      input: `kR = 1e-4, ${radii} radii from the centre, ${side > 0 ? 'in front' : 'behind'}`,
      expected: 20 * Math.log10((2 * q) / (1 - side * q) + side * Math.log(1 - side * q)),
      tolerance: 1e-6,
      toleranceReason: 'terms of order (kr)² are left out of the limit, below 1e-6 of the pressure',
      computed: () => {
        // Here the cap has to be small against its distance of 0.05 radii, too.
        const radiation = spherePiston({ radiusM: 1, capHalfAngleRad: 1e-6, motion: 'radial' }, frequencyHz(1e-4), air)
        const unit = (radiation.frequencyHz * air.densityKgM3) / 2
        return 20 * Math.log10(magnitude(radiation.pressureAt({ xM: 0, yM: 0, zM: side * radii })) / unit)
      },
    }
  }),
)

/** Power from pressure × velocity integrated over the moving cap, W; the far field plays no part. */
function surfacePowerW(shape: SpherePistonShape, hz: number): number {
  const radiation = spherePiston(shape, hz, air)
  const { nodes, weights } = gaussLegendre(200)
  const cosRim = Math.cos(shape.capHalfAngleRad)
  const velocity = 1 / (2 * Math.PI * shape.radiusM ** 2 * (1 - cosRim))
  let sum = 0
  for (let i = 0; i < nodes.length; i++) {
    const cosAngle = (1 + cosRim + (1 - cosRim) * (nodes[i] as number)) / 2
    const sinAngle = Math.sqrt(1 - cosAngle * cosAngle)
    const { re } = radiation.pressureAt({ xM: shape.radiusM * sinAngle, yM: 0, zM: shape.radiusM * cosAngle })
    sum += (weights[i] as number) * re
  }
  return (0.5 * velocity * sum * 2 * Math.PI * shape.radiusM ** 2 * (1 - cosRim)) / 2
}

const exact: Check[] = [
  {
    id: 'sphere-limit-small',
    kind: 'law',
    quantity: 'Point source on a very small sphere: level in front re free space',
    unit: 'dB',
    source,
    place: 'limit kR → 0',
    input: 'kR = 0.001, 0°',
    expected: 0,
    tolerance: 1e-5,
    toleranceReason: 'the table gives 0.007 dB at kR = 0.1 and the rest falls with (kR)²',
    computed: () => reFreeSpaceDb(point(0.001), 0),
  },
  {
    id: 'sphere-limit-large',
    kind: 'law',
    quantity: 'Point source on a very large sphere: level in front re free space, pressure doubling',
    unit: 'dB',
    source: 'morse-ingard-theoretical-acoustics',
    place: 'limit kR → ∞, a rigid plane',
    input: 'kR = 1000, 0°',
    expected: 20 * Math.log10(2),
    tolerance: 0.005,
    toleranceReason: 'the rest falls faster than 2/kR dB (0.19 dB at kR = 10), that is 0.002 dB',
    computed: () =>
      reFreeSpaceDb(spherePiston({ radiusM: 1, capHalfAngleRad: 1e-6, motion: 'radial' }, frequencyHz(1000), air), 0),
  },
  ...[0.5, 5, 60].map(
    (kR): Check => ({
      id: `sphere-energy-kr-${idPart(kR)}`,
      kind: 'law',
      quantity: 'Cap on a sphere: power through its surface over power in the far field',
      unit: '1',
      source: 'morse-vibration-and-sound',
      place: 'conservation of energy, an exact relation',
      input: `radial cap of 40°, kR = ${kR}`,
      expected: 1,
      tolerance: 1e-5,
      toleranceReason: 'the pressure on the surface comes from a series that is cut, good to 1e-5',
      computed: () => {
        const shape: SpherePistonShape = { radiusM: 1, capHalfAngleRad: 40 * degrees, motion: 'radial' }
        const hz = frequencyHz(kR)
        return surfacePowerW(shape, hz) / spherePiston(shape, hz, air).powerW
      },
    }),
  ),
  ...[1e-6, 1, 60, 1000].map(
    (kR): Check => ({
      id: `sphere-pulsating-kr-${idPart(kR)}`,
      kind: 'law',
      quantity: 'Whole sphere pulsating: power over its closed form ρck²|Q|²/8π(1 + k²R²)',
      unit: '1',
      source: 'kinsler-frey-fundamentals',
      place: 'section 7.1',
      input: `kR = ${kR}`,
      expected: 1,
      tolerance: 1e-11,
      toleranceReason: 'an exact relation; rounding only',
      computed: () => {
        const sphere = spherePiston({ radiusM: 1, capHalfAngleRad: Math.PI, motion: 'radial' }, frequencyHz(kR), air)
        return sphere.powerW / (monopole(frequencyHz(kR), air).powerW / (1 + kR * kR))
      },
    }),
  ),
  ...(['radial', 'axial'] as const).map(
    (motion): Check => ({
      id: `sphere-velocity-${motion}`,
      kind: 'method',
      quantity: `Legendre coefficient U₇ of a ${motion} cap against quadrature of its velocity`,
      unit: '1',
      source: 'morse-ingard-theoretical-acoustics',
      place: 'section 7.2',
      input: 'half-angle 40°, n = 7; relative error',
      expected: 0,
      tolerance: 1e-12,
      toleranceReason: 'the quadrature is exact for polynomials; rounding only',
      computed: () => {
        const cosRim = Math.cos(40 * degrees)
        const { nodes, weights } = gaussLegendre(40)
        let moment = 0
        let flow = 0
        for (let i = 0; i < nodes.length; i++) {
          const cosAngle = (1 + cosRim + (1 - cosRim) * (nodes[i] as number)) / 2
          const share = (weights[i] as number) * (motion === 'axial' ? cosAngle : 1)
          moment += share * (legendrePolynomials(7, cosAngle)[7] as number)
          flow += share
        }
        const expected = (15 / 2) * (moment / (2 * Math.PI * flow))
        return Math.abs((capVelocityCoefficients(40 * degrees, motion, 7)[7] as number) / expected - 1)
      },
    }),
  ),
]

const headlinePoints: Check[] = headline.sphere.map(
  ({ at, ka, capDegrees, radii, where, angle, frequencyHz: shownHz, level_dB }): Check => ({
    id: `sphere-${where}-${at}`,
    kind: 'outside',
    about: [`${where}-${at}` as Headline],
    quantity: `Cap on a rigid sphere: level ${where === 'front' ? 'in front' : where} re the same flow in free space`,
    unit: 'dB',
    source: 'morse-ingard-theoretical-acoustics',
    place: `section 7.2, series summed by headline-digits.py (${headline.source.split(', ').slice(1).join(', ')})`,
    input: `${shownHz} Hz on a ball with the surface of a demo box, kR = ${ka}, cap of ${capDegrees}°, ${angle}°, ${radii} radii from the centre`,
    expected: level_dB,
    tolerance: 1e-6,
    toleranceReason: 'the series is good to 1e-8 of the pressure away from the surface, 1e-7 dB; the rest is rounding',
    computed: () => {
      const hz = frequencyHz(ka)
      const cap = spherePiston({ radiusM: 1, capHalfAngleRad: capDegrees * degrees, motion: 'radial' }, hz, air)
      const place = { xM: radii * Math.sin(angle * degrees), yM: 0, zM: radii * Math.cos(angle * degrees) }
      const free = magnitude(monopole(hz, air).pressureAt({ xM: 0, yM: 0, zM: radii }))
      return 20 * Math.log10(magnitude(cap.pressureAt(place)) / free)
    },
  }),
)

/** A source on a rigid sphere: the first model of a box. */
export const sphereChecks: CheckGroup = {
  title: 'Source on a sphere',
  checks: [...headlinePoints, ...points, ...caps, ...pressures, ...staticLimit, ...exact],
}
