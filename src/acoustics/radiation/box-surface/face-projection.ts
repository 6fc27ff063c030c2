import { gaussRule } from '../../special/gauss-rule.ts'
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

/** Places along a side, with what each gives to each point; Gauss weights are in the values. */
type FineRule = { placesM: number[]; values: Float64Array }

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
  const rowRe = new Float64Array(vCount)
  const rowIm = new Float64Array(vCount)
  const out = new Float64Array(2)
  for (const [a, x] of alongU.placesM.entries()) {
    const chordM = driver.kind === 'piston' ? Math.sqrt(Math.max(0, halfWidthM ** 2 - (x - middleU) ** 2)) : 0
    const alongV = chordM > 0 ? fineRule(v, middleV, chordM, halfHeightM, longestM) : straightV
    rowRe.fill(0)
    rowIm.fill(0)
    for (const [b, y] of alongV.placesM.entries()) {
      out.fill(0)
      potential(x, y, out)
      for (let j = 0; j < vCount; j++) {
        const value = alongV.values[b * vCount + j] as number
        rowRe[j] = (rowRe[j] as number) + value * (out[0] as number)
        rowIm[j] = (rowIm[j] as number) + value * (out[1] as number)
      }
    }
    for (let i = 0; i < uCount; i++) {
      const value = alongU.values[a * uCount + i] as number
      if (value === 0) continue
      for (let j = 0; j < vCount; j++) {
        const point = first + i * vCount + j
        re[point] = (re[point] as number) + value * (rowRe[j] as number)
        im[point] = (im[point] as number) + value * (rowIm[j] as number)
      }
    }
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
  const placesM: number[] = []
  const rows: Float64Array[] = []
  for (const [index, from] of breaks.slice(0, -1).entries()) {
    const to = breaks[index + 1] as number
    const pieces = Math.max(1, Math.ceil((to - from) / longestM))
    const patch = edge.patches.findLast(({ fromM }) => fromM <= from) as EdgePatch
    const fromT = parameterAt(patch, from)
    const half = (parameterAt(patch, to) - fromT) / pieces / 2
    const { nodes, weights } = gaussRule(fewestPoints + Math.ceil(2 * half * (patch.count + slopeOrder)))
    for (let piece = 0; piece < pieces; piece++) {
      for (let i = 0; i < nodes.length; i++) {
        const t = fromT + half * (2 * piece + 1 + (nodes[i] as number))
        const values = new Float64Array(count)
        cardinalValues(patch.count, t, (weights[i] as number) * half * slopeM(patch, t), values, patch.first)
        nearestPolynomial(patch, values)
        placesM.push(placeM(patch, t))
        rows.push(values)
      }
    }
  }
  const values = new Float64Array(placesM.length * count)
  for (const [row, part] of rows.entries()) values.set(part, row * count)
  return { placesM, values }
}
