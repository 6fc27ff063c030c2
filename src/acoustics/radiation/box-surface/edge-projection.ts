import { gaussRule } from '../../special/gauss-rule.ts'
import { cardinalValues, type EdgePatch, slopeM } from './edge-rule.ts'

/** Inverses of the mass matrices of a stretch of length 1 at one edge or two, for each number of points, row after row. */
const inverses = new Map<string, Float64Array>()

/**
 * Turns the integrals  ∫ f ℓ_i ds  of a function with a patch's polynomials into the values at its points of the polynomial that
 * comes nearest to it in the mean square, in place: those are the products with the inverse of  M_ij = ∫ ℓ_i ℓ_j ds. Where the
 * parameter is the place, M is the diagonal of the weights.
 *
 * @param values  integrals of all points of the side, at from + point · step
 */
export function nearestPolynomial(patch: EdgePatch, values: Float64Array, from: number, step: number): void {
  const { count, first, fromM, toM, atEdge, fromEdge = false } = patch
  const lengthM = toM - fromM
  const begin = from + first * step
  if (!atEdge) {
    const { weights } = gaussRule(count)
    for (let i = 0, at = begin; i < count; i++, at += step) {
      values[at] = (values[at] as number) / (((weights[i] as number) / 2) * lengthM)
    }
    return
  }
  const key = `${count} ${fromEdge}`
  const inverse = inverses.get(key) ?? massInverse(count, fromEdge)
  inverses.set(key, inverse)
  const integrals = Float64Array.from({ length: count }, (_, i) => values[begin + i * step] as number)
  for (let i = 0, at = begin; i < count; i++, at += step) {
    let sum = 0
    for (let j = 0; j < count; j++) sum += (inverse[i * count + j] as number) * (integrals[j] as number)
    values[at] = sum / lengthM
  }
}

/** Inverse of the mass matrix by Gauss–Jordan steps; it is symmetric and positive, so that no pivots are looked for. */
function massInverse(count: number, fromEdge: boolean): Float64Array {
  const stretch = { fromM: 0, toM: 1, atEdge: true, fromEdge }
  // Two points more than the polynomials have: the slope is of third or fourth order.
  const { nodes, weights } = gaussRule(count + 2)
  const matrix = new Float64Array(count * count)
  const values = new Float64Array(count)
  for (let q = 0; q < nodes.length; q++) {
    const t = (1 + (nodes[q] as number)) / 2
    cardinalValues(count, t, 1, values, 0)
    const weight = ((weights[q] as number) / 2) * slopeM(stretch, t)
    for (let i = 0; i < count; i++) {
      for (let j = 0; j < count; j++) {
        const at = i * count + j
        matrix[at] = (matrix[at] as number) + weight * (values[i] as number) * (values[j] as number)
      }
    }
  }
  for (let step = 0; step < count; step++) {
    const row = step * count
    const pivot = 1 / (matrix[row + step] as number)
    matrix[row + step] = 1
    for (let j = 0; j < count; j++) matrix[row + j] = (matrix[row + j] as number) * pivot
    for (let i = 0; i < count; i++) {
      if (i === step) continue
      const factor = matrix[i * count + step] as number
      matrix[i * count + step] = 0
      for (let j = 0; j < count; j++) {
        matrix[i * count + j] = (matrix[i * count + j] as number) - factor * (matrix[row + j] as number)
      }
    }
  }
  return matrix
}
