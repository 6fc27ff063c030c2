import { gaussRule } from '../../special/gauss-rule.ts'
import { addTimes } from '../boundary-elements/add-times.ts'
import { type Driver, driverHalfSizeM } from '../cabinet.ts'
import type { FacePart } from './box-points.ts'
import { nearestPolynomial } from './edge-projection.ts'
import { cardinalValues, type EdgePatch, parameterAt, placeM, type SideRule, slopeM } from './edge-rule.ts'

/** Cuts of the quadrature on either side of a rim, in half sizes of the driver. */
const stepsFromRim = [0.1, 0.4, 1, 2, 5, 12, 30]

/** A stretch of the quadrature spans at most this much phase, rad. */
const phasePerStretchRad = 3

/** Gauss points of the shortest stretch; longer ones get more, in step with the polynomials that they span. */
const fewestPoints = 3

/** The slope of the parameter adds to the order of the polynomials. */
const slopeOrder = 2

/** Places along a side, with the values of the points’ polynomials there; Gauss weights are in the values. */
type FineRule = { placesM: Float64Array; values: Float64Array }

/**
 * What an aperture sends along its own face, as the polynomials of the face's points that come nearest to it in the mean square.
 *
 * The rim of a driver runs anywhere across the patches, and there the potential has a kink that no polynomial meets. On the front
 * the pressure is twice that potential plus what other faces send, which is smooth. In every equation of another face the front
 * stands under an integral with a smooth kernel, and there the nearest polynomial does as well as the potential itself, to the
 * product of what polynomials miss of both. So the kink costs nothing, wherever it runs. Quadrature is cut along the rim.
 *
 * @param face        the part of the driver's plane: u is x and v is y
 * @param driver      whose outline is cut along
 * @param potential   adds the driver’s potential at a place (x, y) of the face to `out`
 * @param middle      where the middle of the outline lies on the face, x and y, m
 * @param wavenumber  rad/m, 0 or more
 * @param re, im      the numbers of the front's points are added to these
 */
export function projectOnFace(
  { u, v, first }: FacePart,
  driver: Driver,
  potential: (x: number, y: number, out: Float64Array) => void,
  [middleU, middleV]: readonly [number, number],
  wavenumber: number,
  re: Float64Array,
  im: Float64Array,
): void {
  const [uCount, vCount] = [u.placesM.length, v.placesM.length]
  const { halfWidthM, halfHeightM } = driverHalfSizeM(driver)
  const longestM = phasePerStretchRad / wavenumber
  const alongU = fineRule(u, middleU, halfWidthM, halfWidthM, longestM)
  const straightV = fineRule(v, middleV, halfHeightM, halfHeightM, longestM)
  const integralsRe = new Float64Array(uCount * vCount)
  const integralsIm = new Float64Array(uCount * vCount)
  const rowRe = new Float64Array(vCount)
  const rowIm = new Float64Array(vCount)
  const out = new Float64Array(2)
  for (let a = 0; a < alongU.placesM.length; a++) {
    const x = alongU.placesM[a] as number
    const chordM = driver.kind === 'piston' ? Math.sqrt(Math.max(0, halfWidthM ** 2 - (x - middleU) ** 2)) : 0
    const alongV = chordM > 0 ? fineRule(v, middleV, chordM, halfHeightM, longestM) : straightV
    rowRe.fill(0)
    rowIm.fill(0)
    for (let b = 0; b < alongV.placesM.length; b++) {
      out.fill(0)
      potential(x, alongV.placesM[b] as number, out)
      addTimes(rowRe, 0, alongV.values, b * vCount, out[0] as number, vCount)
      addTimes(rowIm, 0, alongV.values, b * vCount, out[1] as number, vCount)
    }
    for (let i = 0; i < uCount; i++) {
      const value = alongU.values[a * uCount + i] as number
      addTimes(integralsRe, i * vCount, rowRe, 0, value, vCount)
      addTimes(integralsIm, i * vCount, rowIm, 0, value, vCount)
    }
  }
  for (const integrals of [integralsRe, integralsIm]) toNearest(integrals, u, v)
  addTimes(re, first, integralsRe, 0, 1, uCount * vCount)
  addTimes(im, first, integralsIm, 0, 1, uCount * vCount)
}

/** Turns integrals with the polynomials of two sides into values at their points, in place; see nearestPolynomial. */
function toNearest(integrals: Float64Array, u: SideRule, v: SideRule): void {
  const [uCount, vCount] = [u.placesM.length, v.placesM.length]
  for (let i = 0; i < uCount; i++) {
    for (const patch of v.patches) nearestPolynomial(patch, integrals, i * vCount, 1)
  }
  for (let j = 0; j < vCount; j++) {
    for (const patch of u.patches) nearestPolynomial(patch, integrals, j, vCount)
  }
}

/**
 * A composite rule along a side, cut where it crosses a rim.
 *
 * @param rimM      the rim crosses it so far on either side of `middleM`, m
 * @param stepM     half size of the driver, m
 * @param longestM  longest stretch, m
 */
function fineRule(edge: SideRule, middleM: number, rimM: number, stepM: number, longestM: number): FineRule {
  const [low, high] = [middleM - rimM, middleM + rimM]
  const [beginM, endM] = [edge.patches[0]?.fromM as number, edge.patches.at(-1)?.toM as number]
  const cuts = [endM, ...edge.patches.map(({ fromM }) => fromM), low, middleM, high]
  for (const step of stepsFromRim) {
    const offsetM = step * stepM
    cuts.push(low - offsetM, high + offsetM)
    if (offsetM < rimM) cuts.push(low + offsetM, high - offsetM)
  }
  const breaks = [...new Set(cuts.filter((place) => place >= beginM && place <= endM))].sort((a, b) => a - b)
  const count = edge.placesM.length
  const stretches = breaks.slice(1).map((to, index) => {
    const from = breaks[index] as number
    const pieces = Math.max(1, Math.ceil((to - from) / longestM))
    const patch = edge.patches.findLast(({ fromM }) => fromM <= from) as EdgePatch
    const fromT = parameterAt(patch, from)
    const half = (parameterAt(patch, to) - fromT) / pieces / 2
    return {
      patch,
      pieces,
      fromT,
      half,
      rule: gaussRule(fewestPoints + Math.ceil(2 * half * (patch.count + slopeOrder))),
    }
  })
  const length = stretches.reduce((sum, { pieces, rule }) => sum + pieces * rule.nodes.length, 0)
  const made = { placesM: new Float64Array(length), values: new Float64Array(length * count) }
  let at = 0
  for (const { patch, pieces, fromT, half, rule } of stretches) {
    for (let piece = 0; piece < pieces; piece++) {
      for (let i = 0; i < rule.nodes.length; i++, at++) {
        const t = fromT + half * (2 * piece + 1 + (rule.nodes[i] as number))
        made.placesM[at] = placeM(patch, t)
        const weight = (rule.weights[i] as number) * half * slopeM(patch, t)
        cardinalValues(patch.count, t, weight, made.values, at * count + patch.first)
      }
    }
  }
  return made
}
