import { requireInRange } from '../numeric-range.ts'

/** What a wall throws back: its specific admittance β = ρc/Z, real, and a factor that is the same at every angle. */
export type WallReflection = { admittance: number; even: number }

/** Most that a wall of real impedance can take of sound from all sides, at ζ = 1.567 (Kuttruff, Room Acoustics, section 2.5). */
const softestAdmittance = 1 / 1.5675

/** Paris' formula for a real impedance: α = 8β (1 + β/(1 + β) − 2β ln(1 + 1/β)). */
export function randomIncidenceAbsorption(admittance: number): number {
  const b = requireInRange('admittance', admittance, { min: 0, max: 1 })
  return b === 0 ? 0 : 8 * b * (1 + b / (1 + b) - 2 * b * Math.log1p(1 / b))
}

const mostAbsorption = randomIncidenceAbsorption(softestAdmittance)

/**
 * The wall that takes a share of the sound from all sides, as handbooks measure it: locally reacting, with a real impedance. Handbooks do not
 * give phases, so a real one is the assumption that asks for the least. What takes more than 0.951 is the softest such wall, covered evenly by more.
 *
 * @param absorption  α for sound from all sides, 0 … 1
 * @returns           β, 0 … 0.638, and the factor, 1 up to α = 0.951
 * @throws RangeError by the given name
 * Source: Kuttruff, Room Acoustics, section 2.5 (absorption of a locally reacting wall in a diffuse field), solved for the impedance.
 */
export function wallReflection(name: string, absorption: number): WallReflection {
  requireInRange(name, absorption, { min: 0, max: 1 })
  if (absorption >= mostAbsorption) {
    return { admittance: softestAdmittance, even: Math.sqrt((1 - absorption) / (1 - mostAbsorption)) }
  }
  let known = knownAdmittances.get(absorption)
  if (known === undefined) {
    if (knownAdmittances.size >= mostKnown) knownAdmittances.clear()
    known = admittanceOf(absorption)
    knownAdmittances.set(absorption, known)
  }
  return { admittance: known, even: 1 }
}

const knownAdmittances = new Map<number, number>()
const mostKnown = 4096

/** The formula rises up to the softest wall: halved until nothing is left to halve. */
function admittanceOf(absorption: number): number {
  if (absorption === 0) return 0
  let [low, high] = [0, softestAdmittance]
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2
    if (randomIncidenceAbsorption(middle) < absorption) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * The factor of the pressure when a plane wave is thrown back: R = (cos ϑ − β)/(cos ϑ + β), from nearly 1 at right angles through 0 to −1 along the wall.
 *
 * @param cosine  cos ϑ between the way of the sound and the wall's normal, 0 … 1
 * Source: Kuttruff, Room Acoustics, Equation (2.18), for a locally reacting wall.
 */
export function reflectionAt({ admittance, even }: WallReflection, cosine: number): number {
  return admittance === 0 ? even : (even * (cosine - admittance)) / (cosine + admittance)
}
