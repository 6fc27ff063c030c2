import { gaussRule } from '../../special/gauss-rule.ts'
import { cardinalValues, type EdgePatch, parameterAt, placeM, slopeM } from './edge-rule.ts'

/** Stretches of the quadrature grow by this factor away from a near point. */
const stretchGrowth = 3

/** Points of a stretch beyond half of the patch's own. */
const extraPoints = 4

/** Nearer than this many steps between points, a patch is integrated with a rule made for the place. */
const nearSteps = 3.5

/** Nearer than this share of the patch a place counts as that far away. */
const leastShare = 1e-7

/** A patch's own points and the places of a composite rule along one side, with the polynomials' values there, weighted. */
type SideRule = { places: Float64Array; values: Float64Array; length: number }

const sideRule = (): SideRule => ({ places: new Float64Array(0), values: new Float64Array(0), length: 0 })
const alongU = sideRule()
const alongV = sideRule()
/** Of one run along v: 1/R³ and 1/R at its places, and the polynomials' values point by point. */
let cubesAlong = new Float64Array(0)
let inversesAlong = new Float64Array(0)
let valuesByPoint = new Float64Array(0)

/** Distance of a place from a stretch, m; 0 beside it. */
const beyond = ({ fromM, toM }: EdgePatch, place: number): number => Math.max(fromM - place, place - toM, 0)

/** Distance of a place, at a height over the plane, from a patch of it, m. */
export const distanceM = (u: EdgePatch, v: EdgePatch, uM: number, vM: number, heightM: number): number =>
  Math.hypot(beyond(u, uM), beyond(v, vM), heightM)

/** Whether a patch is too near to a place for its own points to integrate over it. */
export function isNear(u: EdgePatch, v: EdgePatch, uM: number, vM: number, heightM: number): boolean {
  const stepM = Math.max((u.toM - u.fromM) / u.count, (v.toM - v.fromM) / v.count)
  return distanceM(u, v, uM, vM, heightM) < nearSteps * stepM
}

/**
 * Static integrals over a patch for each of its polynomials ℓ_j (see cardinalValues):
 *
 *   cubes_j = ∫ ℓ_j/R³ dS,   inverses_j = ∫ ℓ_j/R dS
 *
 * for a place near it. Stretches of Gauss points grow away from the place, beginning with its distance from the patch, so that the
 * peak of width h is met whatever h is. The tensor product is summed one side after the other.
 *
 * @param u, v        the two sides of the patch
 * @param uM, vM      foot of the place on the patch's plane, m
 * @param heightM     its height over that plane, m, not 0 if the foot is on the patch
 * @param cubes       receives u.count × v.count numbers, 1/m, those along v side by side
 * @param inverses    the same for the other integral, m
 * Accuracy: their sums as the tests hold them, 1e-4 of an octant; single numbers on the coarsest patches within 1e-3 of the greatest, which
 *           with more points moves solutions by less than 1e-6.
 */
export function nearIntegrals(
  u: EdgePatch,
  v: EdgePatch,
  uM: number,
  vM: number,
  heightM: number,
  cubes: Float64Array,
  inverses: Float64Array,
): void {
  const least = leastShare * Math.max(u.toM - u.fromM, v.toM - v.fromM)
  const nearestM = Math.max(least, distanceM(u, v, uM, vM, heightM))
  setSideRule(alongU, u, uM, nearestM)
  setSideRule(alongV, v, vM, nearestM)
  const { places: vPlaces, values: vValues, length: vLength } = alongV
  const [uCount, vCount] = [u.count, v.count]
  if (cubesAlong.length < vLength) {
    cubesAlong = new Float64Array(vLength)
    inversesAlong = new Float64Array(vLength)
  }
  if (valuesByPoint.length < vLength * (vCount + 1)) valuesByPoint = new Float64Array(vLength * (vCount + 1))
  const [along3, along1, byPoint] = [cubesAlong, inversesAlong, valuesByPoint]
  for (let b = 0, at = 0; b < vLength; b++) {
    for (let j = 0; j < vCount; j++, at++) byPoint[j * vLength + b] = vValues[at] as number
  }
  cubes.fill(0, 0, uCount * vCount)
  inverses.fill(0, 0, uCount * vCount)
  for (let a = 0; a < alongU.length; a++) {
    const du = (alongU.places[a] as number) - uM
    const across = du * du + heightM * heightM
    for (let b = 0; b < vLength; b++) {
      const dv = (vPlaces[b] as number) - vM
      const inverse = 1 / Math.sqrt(across + dv * dv)
      along1[b] = inverse
      along3[b] = inverse * inverse * inverse
    }
    // Two points at once; the second of the last pair may be one of none.
    for (let j = 0; j < vCount; j += 2) {
      const p = j * vLength
      const q = p + vLength
      let cubeP = 0
      let cubeQ = 0
      let inverseP = 0
      let inverseQ = 0
      for (let b = 0; b < vLength; b++) {
        const cube = along3[b] as number
        const inverse = along1[b] as number
        const valueP = byPoint[p + b] as number
        const valueQ = byPoint[q + b] as number
        cubeP += cube * valueP
        cubeQ += cube * valueQ
        inverseP += inverse * valueP
        inverseQ += inverse * valueQ
      }
      const hasSecond = j + 1 < vCount
      for (let i = 0, to = j, from = a * uCount; i < uCount; i++, to += vCount, from++) {
        const value = alongU.values[from] as number
        cubes[to] = (cubes[to] as number) + value * cubeP
        inverses[to] = (inverses[to] as number) + value * inverseP
        if (!hasSecond) continue
        cubes[to + 1] = (cubes[to + 1] as number) + value * cubeQ
        inverses[to + 1] = (inverses[to + 1] as number) + value * inverseQ
      }
    }
  }
}

/** Stretches from the place on the side that is nearest, growing both ways, in the patch's own parameter. */
function setSideRule(rule: SideRule, patch: EdgePatch, nearM: number, firstM: number): void {
  const { fromM, toM, count } = patch
  const nearest = Math.min(toM, Math.max(fromM, nearM))
  const breaks: number[] = [nearest]
  for (let reach = firstM, at = nearest; at < toM; reach *= stretchGrowth) {
    at = nearest + reach * (1 + 1 / stretchGrowth) > toM ? toM : nearest + reach
    breaks.push(at)
  }
  for (let reach = firstM, at = nearest; at > fromM; reach *= stretchGrowth) {
    at = nearest - reach * (1 + 1 / stretchGrowth) < fromM ? fromM : nearest - reach
    breaks.unshift(at)
  }
  const { nodes, weights } = gaussRule(extraPoints + Math.ceil(count / 2))
  const length = (breaks.length - 1) * nodes.length
  if (rule.places.length < length) rule.places = new Float64Array(length)
  if (rule.values.length < length * count) rule.values = new Float64Array(length * count)
  rule.length = length
  let at = 0
  let from = parameterAt(patch, breaks[0] as number)
  for (let stretch = 1; stretch < breaks.length; stretch++) {
    const to = parameterAt(patch, breaks[stretch] as number)
    const half = (to - from) / 2
    for (let i = 0; i < nodes.length; i++, at++) {
      const t = from + half * (1 + (nodes[i] as number))
      rule.places[at] = placeM(patch, t)
      cardinalValues(count, t, (weights[i] as number) * half * slopeM(patch, t), rule.values, at * count)
    }
    from = to
  }
}
