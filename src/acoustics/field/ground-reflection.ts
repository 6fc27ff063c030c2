import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { groundAdmittance } from '../medium/ground.ts'
import { requireInRange } from '../numeric-range.ts'
import { faddeeva } from '../special/faddeeva.ts'

/** By how much a ground changes what comes from a source's mirror image: its way from image to listener, m, and the cosine between that way and the upright. */
export type GroundReflection = (frequencyHz: number, pathM: number, cosine: number) => Complex

/**
 * Reflection coefficient of a spherical wave over ground of a specific admittance (Weyl, Van der Pol):
 *
 *   Q = R + (1 − R) F(d),  R = (cos ϑ − β)/(cos ϑ + β),  d = √(jkr/2) (cos ϑ + β) for e^{−jωt},  F(d) = 1 + j√π d w(d)
 *
 * w is the Faddeeva function. Along the ground R is −1: with plane waves sound there would be silence. F brings it back, since a
 * source near by sends no plane wave: the softer the ground and the longer the way, the less.
 *
 * It is the first term of a series in 1/(kr), and exact for hard ground: Q = 1.
 *
 * @param admittance  β, real part 0 or more, for e^{+jωt}
 * @param kr          wavenumber times the way from mirror image to listener, 0 … 10⁸
 * @param cosine      cos ϑ between that way and the upright, 0 … 1
 * @returns  Q for e^{+jωt}
 * @throws   RangeError for an argument out of range
 * Source:   C. F. Chien and W. W. Soroka, J. Sound Vib. 43 (1975), 9 and 69 (1980), 340; E. M. Salomons, Computational Atmospheric
 *           Acoustics (2001), Equations (D.57) to (D.60).
 * Accuracy: over grass from 31.5 Hz, 2 m and more from the source, within 0.003 of the exact integral (evidence).
 */
export function sphericalReflection(admittance: Complex, kr: number, cosine: number): Complex {
  requireInRange('admittance.re', admittance.re, { min: 0 })
  requireInRange('kr', kr, { min: 0, max: 1e8 })
  requireInRange('cosine', cosine, { min: 0, max: 1 })
  if (admittance.re === 0 && admittance.im === 0) return { re: 1, im: 0 }
  // The books' time factor is e^{−jωt}: everything is conjugated on the way in and out.
  const [re, im] = [cosine + admittance.re, -admittance.im]
  const norm = re * re + im * im
  // 1 − R = 2β/(cos ϑ + β)
  const lost = {
    re: (2 * (admittance.re * re - admittance.im * im)) / norm,
    im: (2 * (-admittance.im * re - admittance.re * im)) / norm,
  }
  // √j = (1 + j)/√2
  const root = Math.sqrt(kr) / 2
  const distance = { re: root * (re - im), im: root * (re + im) }
  const w = faddeeva(distance)
  // 1 − F = −j√π d w
  const missing = {
    re: Math.sqrt(Math.PI) * (distance.re * w.im + distance.im * w.re),
    im: -Math.sqrt(Math.PI) * (distance.re * w.re - distance.im * w.im),
  }
  return {
    re: 1 - (lost.re * missing.re - lost.im * missing.im),
    im: lost.re * missing.im + lost.im * missing.re,
  }
}

/**
 * What ground of a flow resistivity throws back, in an air.
 *
 * @param resistivity  effective flow resistivity, see groundAdmittance
 * @throws RangeError  for an Air or a resistivity out of range
 */
export function groundReflection(resistivity: number, air: Air): GroundReflection {
  const { speedOfSoundMps } = requireAir(air)
  let known = { frequencyHz: 1000, admittance: groundAdmittance(resistivity, 1000) }
  return (frequencyHz, pathM, cosine) => {
    if (known.frequencyHz !== frequencyHz) {
      known = { frequencyHz, admittance: groundAdmittance(resistivity, frequencyHz) }
    }
    return sphericalReflection(known.admittance, (2 * Math.PI * frequencyHz * pathM) / speedOfSoundMps, cosine)
  }
}
