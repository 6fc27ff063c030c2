import { gaussRule } from '../../special/gauss-rule.ts'

/** A stretch of half an edge, over which what is solved for is one polynomial. */
export type EdgePatch = {
  fromM: number
  toM: number
  /** Whether the stretch ends at an edge of the box: its parameter is then stretched towards there. */
  atEdge: boolean
  /** Whether it begins at one, too. */
  fromEdge?: boolean
  /** Its first point, and how many it has. */
  first: number
  count: number
}

/** Gauss points along a side of a rectangle, from stretch to stretch. */
export type SideRule = {
  patches: EdgePatch[]
  placesM: Float64Array
  weightsM: Float64Array
}

/** Gauss points along half an edge of a box, from the middle (0) to the end (halfM). */
export type EdgeRule = SideRule & { halfM: number }

/**
 * Gauss points along half an edge. Near a right-angled edge of a rigid body the pressure goes like powers of r^{2/3}, r being
 * the distance from it; on the last stretch the points are therefore Gauss points of a parameter τ with
 *
 *   r = length · τ³(2 − τ),   0 ≤ τ ≤ 1
 *
 * in which these powers are τ², τ⁴ … times something smooth, so that a polynomial in τ meets them, while points in the middle
 * are no more than twice as far apart as even ones. On other stretches the parameter is the place.
 *
 * @param halfM    m, above 0
 * @param cutsM    places between the stretches, rising, 0 < cut < halfM
 * @param counts   points of each stretch: one more than there are cuts
 * Source: exponents nπ/ω of a wedge (ω = 3π/2 in the air) by separation in polar coordinates; the parameter is our own, a change
 *         of variable that takes the singularity at an end away.
 */
export function edgeRule(halfM: number, cutsM: readonly number[], counts: readonly number[]): EdgeRule {
  const ends = [0, ...cutsM, halfM]
  let first = 0
  const patches = counts.map((count, index): EdgePatch => {
    const atEdge = index === counts.length - 1
    const patch = { fromM: ends[index] as number, toM: ends[index + 1] as number, atEdge, first, count }
    first += count
    return patch
  })
  return { halfM, ...pointsOf(patches) }
}

/**
 * Gauss points along one stretch between two edges, or from a plane of symmetry to an edge. Between two edges the parameter is
 * stretched towards both:  place = from + length · t³(10 − 15t + 6t²).
 */
export const sideRule = (fromM: number, toM: number, fromEdge: boolean, count: number): SideRule =>
  pointsOf([{ fromM, toM, atEdge: true, fromEdge, first: 0, count }])

function pointsOf(patches: EdgePatch[]): SideRule {
  const total = patches.reduce((sum, { count }) => sum + count, 0)
  const rule: SideRule = { patches, placesM: new Float64Array(total), weightsM: new Float64Array(total) }
  for (const patch of patches) {
    const { nodes, weights } = gaussRule(patch.count)
    for (let i = 0; i < patch.count; i++) {
      const t = (1 + (nodes[i] as number)) / 2
      rule.placesM[patch.first + i] = placeM(patch, t)
      rule.weightsM[patch.first + i] = ((weights[i] as number) / 2) * slopeM(patch, t)
    }
  }
  return rule
}

type Stretch = Pick<EdgePatch, 'fromM' | 'toM' | 'atEdge' | 'fromEdge'>

/** The smoothest step from 0 to 1 whose slope and bend vanish at both ends. */
const step = (t: number): number => t ** 3 * (10 - 15 * t + 6 * t * t)

/** Place at a parameter, m; t runs from 0 to 1 over the patch. */
export function placeM({ fromM, toM, atEdge, fromEdge }: Stretch, t: number): number {
  if (!atEdge) return fromM + t * (toM - fromM)
  // From the nearer end, so that places next to an edge are exact.
  if (fromEdge) return t < 0.5 ? fromM + (toM - fromM) * step(t) : toM - (toM - fromM) * step(1 - t)
  const tau = 1 - t
  return toM - (toM - fromM) * tau ** 3 * (2 - tau)
}

/** Change of the place with the parameter, m. */
export function slopeM({ fromM, toM, atEdge, fromEdge }: Stretch, t: number): number {
  if (!atEdge) return toM - fromM
  if (fromEdge) return (toM - fromM) * 30 * (t * (1 - t)) ** 2
  const tau = 1 - t
  return (toM - fromM) * tau * tau * (6 - 4 * tau)
}

/** Parameter at a place of the patch, to rounding, by Newton’s method. */
export function parameterAt({ fromM, toM, atEdge, fromEdge }: Stretch, place: number): number {
  const share = (place - fromM) / (toM - fromM)
  if (!atEdge) return share
  if (fromEdge) return share > 0.5 ? 1 - parameterOfStep((toM - place) / (toM - fromM)) : parameterOfStep(share)
  const r = Math.min(1, Math.max(0, 1 - share))
  if (r === 0) return 1
  // τ³ ≤ τ³(2 − τ) ≤ 2τ³: the start is not below the root, and at most a quarter above it.
  let tau = Math.cbrt(r)
  for (let round = 0; round < 30; round++) {
    const step = (tau ** 3 * (2 - tau) - r) / (tau * tau * (6 - 4 * tau))
    tau -= step
    if (Math.abs(step) < 1e-14 * tau) break
  }
  return 1 - tau
}

/** The parameter at which `step` is a share of 0 … ½, by Newton’s method from below. */
function parameterOfStep(share: number): number {
  if (share <= 0) return 0
  let t = Math.cbrt(share / 10)
  for (let round = 0; round < 30; round++) {
    const change = (step(t) - share) / (30 * (t * (1 - t)) ** 2)
    t = Math.min(0.5, t - change)
    if (Math.abs(change) < 1e-14 * t) break
  }
  return t
}

/** Gauss nodes on 0 … 1 with the weights of barycentric interpolation between them, for each number of points. */
const bases = new Map<number, { nodes: Float64Array; barycentric: Float64Array }>()

function basisOf(count: number): { nodes: Float64Array; barycentric: Float64Array } {
  const known = bases.get(count)
  if (known) return known
  const { nodes, weights } = gaussRule(count)
  const made = {
    nodes: nodes.map((x) => (1 + x) / 2),
    barycentric: nodes.map((x, i) => (i % 2 === 0 ? 1 : -1) * Math.sqrt((1 - x * x) * (weights[i] as number))),
  }
  bases.set(count, made)
  return made
}

/**
 * Values at a parameter of the polynomials that are 1 at one Gauss point of a patch and 0 at the others.
 *
 * @param count   points of the patch
 * @param t       parameter, 0 … 1
 * @param factor  every value is multiplied by it
 * @param out     receives `count` numbers from `at` on
 * Source: barycentric weights of Gauss points, H. Wang & S. Xiang, Math. Comp. 81 (2012) 861–877.
 */
export function cardinalValues(count: number, t: number, factor: number, out: Float64Array, at: number): void {
  const { nodes, barycentric } = basisOf(count)
  let sum = 0
  for (let i = 0; i < count; i++) {
    const difference = t - (nodes[i] as number)
    if (difference === 0) {
      out.fill(0, at, at + count)
      out[at + i] = factor
      return
    }
    const share = (barycentric[i] as number) / difference
    out[at + i] = share
    sum += share
  }
  const scale = factor / sum
  for (let i = 0; i < count; i++) out[at + i] = (out[at + i] as number) * scale
}
