import { sphericalHankelRatios } from '../special/spherical-hankel.ts'
import { addTimes } from './boundary-elements/add-times.ts'
import { RegularWaves } from './boundary-elements/regular-waves.ts'
import type { BoxSolution } from './box-surface/box-solution.ts'
import { surfaceTerms, type Terms } from './box-surface/surface-terms.ts'
import type { BoxSize } from './cabinet.ts'
import { neededOrder, orderStrengths } from './order-strengths.ts'

/**
 * The sound outside a sphere that encloses a source, as outgoing waves about a point (0, 0, centreZM):
 *
 *   p = Σ b_nm h_n⁽²⁾(kr)/h_n⁽²⁾(kR) Y_nm,  n = 0 … order,  b_nm at index n² + n + m of re and im, Pa
 *
 * with the harmonics of RegularWaves. Plain data: it survives JSON, and can be kept in a file instead of being solved anew.
 */
export type OutgoingExpansion = {
  frequencyHz: number
  /** z of the expansion's centre in the source's own coordinates, m. */
  centreZM: number
  /** R, m: outside this distance from the centre the expansion holds. */
  radiusM: number
  order: number
  re: ArrayLike<number>
  im: ArrayLike<number>
}

/** Orders dropped at the end together have at most this share of the root-mean-square pressure on the sphere. */
const droppedShare = 1e-4

/** The enclosing sphere over the smallest one round the box: on that one the corners would need very many orders. */
const sphereShare = 1.06

/** Orders that the enclosing sphere needs beyond those of the far field. */
const nearFieldOrders = 24

/** Radius of the sphere outside which a box's expansion holds, m. */
export const expansionRadiusM = ({ widthM, heightM, depthM }: BoxSize): number =>
  (sphereShare * Math.hypot(widthM, heightM, depthM)) / 2

/**
 * Expansion of a solved cabinet's sound about the middle of its box (addition theorem of the Green function):
 *
 *   b_nm = −jk h_n(kR) [ ∫ p ∂(j_n Y_nm)/∂n dS + jωρ ∫ v j_n Y_nm dS ],  R half of the box's space diagonal
 *
 * @param solution  from boxSolution
 * @returns         as many orders as matter: those left out have less than 1e-4 of the r.m.s. pressure on the sphere
 * Source: Morse & Ingard, Theoretical Acoustics, section 7.2 (expansion of e^{jkR}/R); orthonormal real harmonics.
 */
export function outgoingExpansion(solution: BoxSolution): OutgoingExpansion {
  return outgoingExpansions([solution])[0] as OutgoingExpansion
}

/** Expansions of one box with several sets of drivers (see boxSolutions): the integrals over its faces are made once. */
export function outgoingExpansions(solutions: readonly BoxSolution[]): OutgoingExpansion[] {
  const [first] = solutions
  if (!first) return []
  const { cabinet, wavenumber } = first
  const radiusM = expansionRadiusM(cabinet)
  const X = wavenumber * radiusM
  const maxOrder = Math.ceil(X + 2 * Math.cbrt(X)) + nearFieldOrders
  const waves = new RegularWaves(maxOrder, wavenumber, radiusM)
  const surfaces = surfaceTerms(waves, solutions)
  return solutions.map((solution, set) => outgoingWaves(solution, surfaces[set] as Terms, waves, radiusM))
}

/** Adds the drivers to the terms of the surface and turns both into outgoing waves. */
function outgoingWaves(
  { cabinet, frequencyHz, wavenumber, omegaRho, apertures }: BoxSolution,
  { re, im }: Terms,
  waves: RegularWaves,
  radiusM: number,
): OutgoingExpansion {
  const X = wavenumber * radiusM
  const maxOrder = waves.order
  for (let i = 0; i < apertures.nodes.x.length; i++) {
    waves.set(apertures.nodes.x[i] as number, apertures.nodes.y[i] as number, cabinet.depthM / 2, 0, 0, 1)
    const vRe = -omegaRho * (apertures.nodes.im[i] as number)
    const vIm = omegaRho * (apertures.nodes.re[i] as number)
    addTimes(re, 0, waves.value, 0, vRe, re.length)
    addTimes(im, 0, waves.value, 0, vIm, im.length)
  }
  // times −jk h_n(kR), with the scale of the regular waves taken out again: H_n = h_n X^n/(2n + 1)!!, H_0 = j e^{−jX}/X
  const ratios = sphericalHankelRatios(X, maxOrder)
  let hRe = Math.sin(X) / X
  let hIm = Math.cos(X) / X
  for (let n = 0; n <= maxOrder; n++) {
    if (n > 0) {
      const scale = X / (2 * n + 1)
      const a = (ratios.re[n] as number) * scale
      const b = (ratios.im[n] as number) * scale
      const next = hRe * a - hIm * b
      hIm = hRe * b + hIm * a
      hRe = next
    }
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const a = re[t] as number
      const b = im[t] as number
      // −jk (a + jb)(hRe + j hIm)
      re[t] = wavenumber * (a * hIm + b * hRe)
      im[t] = -wavenumber * (a * hRe - b * hIm)
    }
  }
  const order = neededOrder(orderStrengths(re, im, maxOrder), droppedShare ** 2, 1)
  const kept = (order + 1) ** 2
  return { frequencyHz, centreZM: -cabinet.depthM / 2, radiusM, order, re: re.slice(0, kept), im: im.slice(0, kept) }
}
