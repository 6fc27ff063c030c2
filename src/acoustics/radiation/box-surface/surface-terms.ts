import { gaussRule } from '../../special/gauss-rule.ts'
import { sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import type { RegularWaves } from '../boundary-elements/regular-waves.ts'
import { boxImages } from './box-double-layer.ts'
import type { FacePart } from './box-points.ts'
import type { BoxSolution } from './box-solution.ts'
import { cardinalValues, placeM, type SideRule, slopeM } from './edge-rule.ts'

/** Numbers of an expansion, at index n² + n + m. */
export type Terms = { re: Float64Array; im: Float64Array }

/** Points along a stretch for the integrals, beyond its own: standing waves of high order bend more than the pressure. */
const extraPoints = 6

/**
 * ∫ p ∂(j_n Y_nm)/∂n dS of solved surfaces.
 *
 * @param waves      of the wanted order
 * @param solutions  of one box at one frequency, on the same points
 */
export function surfaceTerms(waves: RegularWaves, solutions: readonly BoxSolution[]): Terms[] {
  const count = (waves.order + 1) ** 2
  const made = solutions.map((): Terms => ({ re: new Float64Array(count), im: new Float64Array(count) }))
  const [first] = solutions
  if (!first) return made
  const images = boxImages.length
  // Each harmonic keeps or turns its sign at each mirror, so over a point's images it takes one parity of the pressure.
  const parities = harmonicParities(waves.order)
  const sorted = solutions.map(({ re, im }) => {
    const parts = { re: Float64Array.from(re), im: Float64Array.from(im) }
    sortPanelParities(parts.re, images)
    sortPanelParities(parts.im, images)
    return parts
  })
  const present = boxImages.flatMap((_, parity) =>
    sorted.some((parts) => hasParity(parts, parity, first.points.count)) ? [parity] : [],
  )
  const wanted = Array.from({ length: count }, (_, t) => t).filter((t) => present.includes(parities[t] as number))
  const here = made.map(() => ({ re: new Float64Array(images), im: new Float64Array(images) }))
  const place = new Float64Array(3)
  const normal = new Float64Array(3)
  for (const face of first.points.faces) {
    const [u, v] = [fineRule(face.u), fineRule(face.v)]
    const values = new Float64Array(face.u.placesM.length * face.v.placesM.length)
    normal.fill(0)
    normal[face.axis] = 1
    place[face.axis] = face.atM
    for (let a = 0; a < u.placesM.length; a++) {
      for (let b = 0; b < v.placesM.length; b++) {
        place[face.uAxis] = u.placesM[a] as number
        place[face.vAxis] = v.placesM[b] as number
        waves.set(...(place as unknown as [number, number, number]), ...(normal as unknown as [number, number, number]))
        productValues(u, v, a, b, values)
        for (const [set, parts] of sorted.entries()) {
          const at = here[set] as Terms
          interpolate(parts.re, values, face, first.points.count, present, at.re)
          interpolate(parts.im, values, face, first.points.count, present, at.im)
          const { re, im } = made[set] as Terms
          for (const t of wanted) {
            const slope = waves.slope[t] as number
            re[t] = (re[t] as number) + (at.re[parities[t] as number] as number) * slope
            im[t] = (im[t] as number) + (at.im[parities[t] as number] as number) * slope
          }
        }
      }
    }
  }
  return made
}

type FineRule = { placesM: Float64Array; values: Float64Array; count: number }

/** More Gauss points on each stretch of half an edge, with the values of the stretch's polynomials, weighted. */
function fineRule(edge: SideRule): FineRule {
  const count = edge.placesM.length
  const total = edge.patches.reduce((sum, patch) => sum + patch.count + extraPoints, 0)
  const made = { placesM: new Float64Array(total), values: new Float64Array(total * count), count }
  let row = 0
  for (const patch of edge.patches) {
    const { nodes, weights } = gaussRule(patch.count + extraPoints)
    for (let i = 0; i < nodes.length; i++, row++) {
      const t = (1 + (nodes[i] as number)) / 2
      made.placesM[row] = placeM(patch, t)
      const weight = ((weights[i] as number) / 2) * slopeM(patch, t)
      cardinalValues(patch.count, t, weight, made.values, row * count + patch.first)
    }
  }
  return made
}

function productValues(u: FineRule, v: FineRule, a: number, b: number, out: Float64Array): void {
  for (let i = 0, at = 0; i < u.count; i++) {
    const value = u.values[a * u.count + i] as number
    for (let j = 0; j < v.count; j++, at++) out[at] = value * (v.values[b * v.count + j] as number)
  }
}

/** Whether there is any pressure of a parity: those that the drivers do not excite are zero to the last bit. */
function hasParity({ re, im }: Terms, parity: number, count: number): boolean {
  for (let at = parity * count; at < (parity + 1) * count; at++) {
    if (re[at] !== 0 || im[at] !== 0) return true
  }
  return false
}

/** Weighted values of each present parity's pressure at a place of a face. */
function interpolate(
  pressure: Float64Array,
  values: Float64Array,
  { first }: FacePart,
  count: number,
  present: readonly number[],
  out: Float64Array,
): void {
  for (const parity of present) {
    let sum = 0
    for (let i = 0, at = parity * count + first; i < values.length; i++, at++) {
      sum += (values[i] as number) * (pressure[at] as number)
    }
    out[parity] = sum
  }
}

/**
 * Which parity (see sortParities) each harmonic has: cos mφ turns with x for odd m, sin mφ with y and, for even m, with x;
 * n + m odd turns with z.
 */
function harmonicParities(order: number): Uint8Array {
  const parities = new Uint8Array((order + 1) ** 2)
  for (let n = 0; n <= order; n++) {
    for (let m = -n; m <= n; m++) {
      const odd = m % 2 !== 0
      const turnsX = m >= 0 ? odd : !odd
      const turnsY = m < 0
      const turnsZ = (n + m) % 2 !== 0
      parities[n * n + n + m] = (turnsX ? 1 : 0) | (turnsY ? 2 : 0) | (turnsZ ? 4 : 0)
    }
  }
  return parities
}
