import { magnitude } from '../../../src/acoustics/complex.ts'
import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { monopole } from '../../../src/acoustics/radiation/monopole.ts'
import { sphereCabinet } from '../../../src/acoustics/radiation/sphere-cabinet.ts'
import { spherePiston } from '../../../src/acoustics/radiation/sphere-piston.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/sphere-round-digits.json' with { type: 'json' }

const air = { ...makeAir(), speedOfSoundMps: 343.2, densityKgM3: 1.2 }
const edgeM = 0.3
/** Radius of the sphere with the surface of the cube. */
const radiusM = Math.sqrt((6 * edgeM * edgeM) / (4 * Math.PI))
const frequencyHz = (ka: number) => (ka * air.speedOfSoundMps) / (2 * Math.PI * radiusM)

/** A cap so small that at ka = 20 its size changes nothing above 1e-5 dB, on the sphere itself. */
function pointLevelDb(ka: number, angleRad: number): number {
  const point = spherePiston({ radiusM, capHalfAngleRad: 1e-4, motion: 'radial' }, frequencyHz(ka), air)
  return 20 * Math.log10(magnitude(point.farField(Math.cos(angleRad))) / ((point.frequencyHz * air.densityKgM3) / 2))
}

/** So far away that the far field is there to 1e-6 dB. */
const farM = 1e6

/** The stand-in for a cube with a cone, in the coordinates of the cube's front face, seen from the sphere's centre. */
function standInLevelDb(ka: number, angleRad: number): number {
  const cube = {
    widthM: edgeM,
    heightM: edgeM,
    depthM: edgeM,
    drivers: [{ kind: 'piston', radiusM: 0.1, xM: 0, yM: 0 } as const],
  }
  const place = { xM: farM * Math.sin(angleRad), yM: 0, zM: farM * Math.cos(angleRad) }
  const free = monopole(frequencyHz(ka), air).pressureAt(place)
  const ball = sphereCabinet(cube, frequencyHz(ka), air).pressureAt({ ...place, zM: place.zM - radiusM })
  return 20 * Math.log10(magnitude(ball) / magnitude(free))
}

const rows: Check[] = digits.rows.flatMap(({ source, ka, levelDb }) =>
  digits.anglesDegrees.map(
    (degrees, i): Check => ({
      id: `sphere-round-${source}-ka-${ka}-${degrees}`,
      kind: 'outside',
      quantity:
        source === 'point'
          ? 'Point source on a rigid sphere, level re the same source in free space'
          : 'Stand-in for a cube of 0.3 m with a cone of 0.2 m, level re the same flow in free space',
      unit: 'dB',
      source: 'morse-ingard-theoretical-acoustics',
      place: 'section 7.2; digits by sphere-round-digits.py',
      input: `ka = ${ka}, ${degrees}°`,
      expected: levelDb[i] as number,
      tolerance: 0.0001,
      toleranceReason: 'both sum the same series; the point is a cap of 1e-4 rad, the far field one of 1000 km',
      computed: () => (source === 'point' ? pointLevelDb : standInLevelDb)(ka, (degrees * Math.PI) / 180),
    }),
  ),
)

/** Sources on a sphere all round, up to where the sphere is large against the wave. */
export const sphereRoundChecks: CheckGroup = { title: 'Source on a sphere, all round to ka = 20', checks: rows }
