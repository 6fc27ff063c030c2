import { add, type Complex, magnitude, multiply, squaredMagnitude } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { farAwayM } from './far-field.ts'
import { farFieldDirection } from './far-field-direction.ts'
import type { Radiation } from './radiation.ts'

/** One of several radiations that sound together, in the same coordinates; `weight` is its volume velocity, m³/s. */
export type RadiationPart = { radiation: Radiation; weight: Complex }

/**
 * Several radiations about the same origin that sound together, for instance the ways of one cabinet:  p = Σ w_i p_i
 *
 * Power is the far field integrated over all directions (Gauss–Legendre over the polar angle, even steps round it):
 *   W = ∮ |p|² r² dΩ / 2ρc
 * and is computed when first asked for. A source that reaches D from the origin has a far field with a band limit of kD;
 * both rules are exact beyond twice that, so the integral is good to rounding.
 *
 * @param parts   at least one, all at the same frequency, their weights finite and not all zero
 * @param reachM  D, 0 … 100 m: no part of the source lies farther from the origin
 * @param air     the medium that they were made with
 * @returns       Radiation for the sum of the parts as weighted, not per unit volume velocity
 * @throws RangeError for arguments outside these ranges; `farFieldDb` throws where the parts cancel on the forward axis
 * Source: superposition; intensity of the far field p²/2ρc.
 */
export function summedRadiation(parts: RadiationPart[], reachM: number, air: Air): Radiation {
  requireAir(air)
  requireInRange('reachM', reachM, { min: 0, max: 100, unit: 'm' })
  requireInRange('parts.length', parts.length, { min: 1, integer: true })
  parts.forEach(({ weight }, index) => {
    requireInRange(`|parts[${index}].weight|`, magnitude(weight), { min: 0, unit: 'm³/s' })
  })
  const first = parts[0] as RadiationPart
  const { frequencyHz } = first.radiation
  for (const { radiation } of parts) {
    requireInRange('frequencyHz of a part', radiation.frequencyHz, { min: frequencyHz, max: frequencyHz, unit: 'Hz' })
  }
  const sum = (value: (radiation: Radiation) => Complex): Complex =>
    parts.reduce((total, { radiation, weight }) => add(total, multiply(value(radiation), weight)), { re: 0, im: 0 })
  const squaredFarField = (sx: number, sy: number, sz: number): number => {
    const point = { xM: farAwayM * sx, yM: farAwayM * sy, zM: farAwayM * sz }
    return squaredMagnitude(sum((radiation) => radiation.pressureAt(point))) * farAwayM * farAwayM
  }
  const onAxisSquared = squaredFarField(0, 0, 1)
  const rhoC = air.densityKgM3 * air.speedOfSoundMps
  let integratedW: number | undefined
  const powerW = () => {
    integratedW ??= overAllDirections(squaredFarField, (2 * Math.PI * frequencyHz * reachM) / air.speedOfSoundMps)
    return integratedW / (2 * rhoC)
  }
  return {
    frequencyHz,
    pressureAt: (point) => sum((radiation) => radiation.pressureAt(point)),
    get powerW() {
      return powerW()
    },
    get directivityIndexDb() {
      return 10 * Math.log10((4 * Math.PI * onAxisSquared) / (2 * rhoC * powerW()))
    },
    farFieldDb(horizontalRad, verticalRad) {
      const direction = farFieldDirection(horizontalRad, verticalRad)
      if (onAxisSquared === 0) {
        throw new RangeError('the parts cancel on the forward axis; allowed is a sum with sound there')
      }
      return 10 * Math.log10(squaredFarField(...direction) / onAxisSquared)
    },
  }
}

function overAllDirections(value: (sx: number, sy: number, sz: number) => number, bandLimit: number): number {
  const polarSteps = Math.ceil(bandLimit + 4 * Math.cbrt(bandLimit)) + 8
  const roundSteps = 2 * polarSteps
  const { nodes, weights } = gaussLegendre(polarSteps)
  let total = 0
  for (let i = 0; i < polarSteps; i++) {
    const cosAngle = nodes[i] as number
    const sinAngle = Math.sqrt(1 - cosAngle * cosAngle)
    let ring = 0
    for (let m = 0; m < roundSteps; m++) {
      const roundRad = (2 * Math.PI * m) / roundSteps
      ring += value(sinAngle * Math.cos(roundRad), sinAngle * Math.sin(roundRad), cosAngle)
    }
    total += ((weights[i] as number) * ring * 2 * Math.PI) / roundSteps
  }
  return total
}
