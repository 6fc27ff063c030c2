import { gaussRule } from '../../special/gauss-rule.ts'
import { sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import type { RegularWaves } from '../boundary-elements/regular-waves.ts'
import { boxImages } from './box-double-layer.ts'
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
  // Each harmonic keeps or turns its sign at each mirror, so over a point's images it takes one parity of the pressure.
  const termsOf = termsOfParities(waves.order)
  const sorted = solutions.map(({ re, im }) => [re, im].map(sortedByParity) as [Float64Array, Float64Array])
  const present = boxImages.flatMap((_, parity) =>
    sorted.some((parts) => parts.some((part) => hasParity(part, parity, first.points.count))) ? [parity] : [],
  )
  const place = new Float64Array(3)
  const normal = new Float64Array(3)
  for (const face of first.points.faces) {
    const [u, v] = [fineRule(face.u), fineRule(face.v)]
    const shares = sorted.flatMap((parts, set) =>
      present.map((parity) => {
        const from = parity * first.points.count + face.first
        const [re, im] = parts.map((part) => onFineRule(part, from, u, v)) as [Float64Array, Float64Array]
        return { re, im, terms: termsOf[parity] as Uint16Array, to: made[set] as Terms }
      }),
    )
    normal.fill(0)
    normal[face.axis] = 1
    place[face.axis] = face.atM
    let at = 0
    for (const uM of u.placesM) {
      for (const vM of v.placesM) {
        place[face.uAxis] = uM
        place[face.vAxis] = vM
        waves.set(...(place as unknown as [number, number, number]), ...(normal as unknown as [number, number, number]))
        for (const share of shares) addTerms(share, at, waves.slope)
        at++
      }
    }
  }
  return made
}

/** What a face has of one parity of one solution: weighted pressure at the places of its fine rule, and the terms that it is part of. */
type FaceShare = Terms & { terms: Uint16Array; to: Terms }

/** Adds the pressure at one place times some harmonics to their terms. */
function addTerms({ re, im, terms, to }: FaceShare, at: number, slope: Float64Array): void {
  const pRe = re[at] as number
  const pIm = im[at] as number
  for (let i = 0; i < terms.length; i++) {
    const t = terms[i] as number
    const s = slope[t] as number
    to.re[t] = (to.re[t] as number) + pRe * s
    to.im[t] = (to.im[t] as number) + pIm * s
  }
}

/** Numbers of the images of each point as parities. */
function sortedByParity(ofImages: Float64Array): Float64Array {
  const sorted = ofImages.slice()
  sortPanelParities(sorted, boxImages.length)
  return sorted
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

/** Weighted values at the places of two fine rules of numbers at the points of a face, the first of which is at `first`. */
function onFineRule(values: Float64Array, first: number, u: FineRule, v: FineRule): Float64Array {
  const [fineU, fineV] = [u.placesM.length, v.placesM.length]
  const made = new Float64Array(fineU * fineV)
  const along = new Float64Array(v.count)
  for (let a = 0; a < fineU; a++) {
    along.fill(0)
    for (let i = 0, at = first; i < u.count; i++) {
      const value = u.values[a * u.count + i] as number
      for (let j = 0; j < v.count; j++, at++) along[j] = (along[j] as number) + value * (values[at] as number)
    }
    for (let b = 0; b < fineV; b++) {
      let sum = 0
      for (let j = 0; j < v.count; j++) sum += (v.values[b * v.count + j] as number) * (along[j] as number)
      made[a * fineV + b] = sum
    }
  }
  return made
}

/** Whether there is any pressure of a parity: those that the drivers do not excite are zero to the last bit. */
function hasParity(sorted: Float64Array, parity: number, count: number): boolean {
  return sorted.subarray(parity * count, (parity + 1) * count).some((value) => value !== 0)
}

/**
 * The harmonics of each parity (see sortParities): cos mφ turns with x for odd m, sin mφ with y and, for even m, with x;
 * n + m odd turns with z.
 */
function termsOfParities(order: number): Uint16Array[] {
  const terms: number[][] = boxImages.map(() => [])
  for (let n = 0; n <= order; n++) {
    for (let m = -n; m <= n; m++) {
      const odd = m % 2 !== 0
      const turnsX = m >= 0 ? odd : !odd
      const turnsY = m < 0
      const turnsZ = (n + m) % 2 !== 0
      terms[(turnsX ? 1 : 0) | (turnsY ? 2 : 0) | (turnsZ ? 4 : 0)]?.push(n * n + n + m)
    }
  }
  return terms.map((of) => new Uint16Array(of))
}
