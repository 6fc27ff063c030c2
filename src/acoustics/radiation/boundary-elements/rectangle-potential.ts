import { gaussRule } from '../../special/gauss-rule.ts'
import { setPhasor, setPhasors } from '../../special/phasors.ts'

/** Receives magnitude (any unit) and phase lag φ, rad, of the velocity  v e^{−jφ}  at a place of the rectangle. */
export type VelocityAt = (u: number, v: number, out: Float64Array) => void

/** A flat rectangle about (0, 0) whose velocity differs from place to place. */
export type MovingRectangle = {
  halfWidthM: number
  halfHeightM: number
  /** Smooth. */
  velocityAt: VelocityAt
  /** Steepest change of the velocity's phase along the rectangle, rad/m. */
  phaseSlopeRadPerM: number
  /** Shortest distance over which the velocity's magnitude changes by much, m. */
  shortestScaleM: number
}

const rule = gaussRule(8)

/** A stretch under an eight-point rule may span this much phase, rad. */
const phasePerStretchRad = 12

/** Points nearer than so many steps between Gauss points take a rule of twice as many along each side, for which they are as far. */
const nearSteps = 2

/** Points nearer than so many steps are integrated about their nearest place. */
const nearestSteps = 1

/** Points nearer than this share of a triangle count as on it, where the integrand is smooth again. */
const onRectangle = 1e-5

/** Gauss points along the two sides of a triangle, and more for each radian of phase over it. */
const acrossPoints = 5
const alongPoints = 6
const pointsPerRad = 0.5

/** Stretches grow by this factor away from a near point. */
const stretchGrowth = 5

/** From this share of the longer half side on a point is far enough for the sparser Gauss points. */
const farShare = 0.5

/** Of one run over Gauss points: inverse distances, phases and then their cosines, sines. */
let inverses = new Float64Array(0)
let cosines = new Float64Array(0)
let sines = new Float64Array(0)
const velocity = new Float64Array(2)
const phasor = new Float64Array(2)

/** Gauss points of a moving rectangle with the velocity already in them. */
export type RectangleNodes = PlainNodes & {
  /** Widest step between neighbours, m. */
  stepM: number
  /** Twice as many along each side, made when they are first asked for. */
  dense(): PlainNodes
  /** Fewer of them, which are enough for points farther away than `farM`: only the wave counts there. */
  far: PlainNodes
  farM: number
}

type PlainNodes = {
  u: Float64Array
  v: Float64Array
  re: Float64Array
  im: Float64Array
}

/**
 * Gauss points over a moving rectangle:  ∫ f v dS ≈ Σ (re + j im) f(u, v).
 *
 * @param rectangle   see MovingRectangle
 * @param wavenumber  k of the functions f to be integrated, rad/m
 */
export function rectangleNodes(rectangle: MovingRectangle, wavenumber: number): RectangleNodes {
  const { halfWidthM, halfHeightM, phaseSlopeRadPerM, shortestScaleM } = rectangle
  const count = (halfM: number): number =>
    8 + Math.ceil((wavenumber + phaseSlopeRadPerM) * halfM) + Math.ceil((6 * halfM) / shortestScaleM)
  // N points are exact up to degree 2N − 1, and a wave of X rad over half a side has few degrees beyond X.
  const farCount = (halfM: number): number =>
    Math.min(
      count(halfM),
      12 + Math.ceil(0.55 * (wavenumber + phaseSlopeRadPerM) * halfM) + Math.ceil((4 * halfM) / shortestScaleM),
    )
  const [uCount, vCount] = [count(halfWidthM), count(halfHeightM)]
  let dense: PlainNodes | undefined
  return {
    ...plainNodes(rectangle, uCount, vCount),
    dense() {
      dense ??= plainNodes(rectangle, 2 * uCount, 2 * vCount)
      return dense
    },
    // Gauss points are farthest apart in the middle, by π/N of half the side.
    stepM: Math.PI * Math.max(halfWidthM / uCount, halfHeightM / vCount),
    far: plainNodes(rectangle, farCount(halfWidthM), farCount(halfHeightM)),
    farM: farShare * Math.max(halfWidthM, halfHeightM),
  }
}

function plainNodes(
  { halfWidthM, halfHeightM, velocityAt }: MovingRectangle,
  uCount: number,
  vCount: number,
): PlainNodes {
  const [alongU, alongV] = [gaussRule(uCount), gaussRule(vCount)]
  const count = uCount * vCount
  const made: PlainNodes = {
    u: new Float64Array(count),
    v: new Float64Array(count),
    re: new Float64Array(count),
    im: new Float64Array(count),
  }
  for (let i = 0, at = 0; i < uCount; i++) {
    for (let j = 0; j < vCount; j++, at++) {
      const u = halfWidthM * (alongU.nodes[i] as number)
      const v = halfHeightM * (alongV.nodes[j] as number)
      velocityAt(u, v, velocity)
      setPhasor(velocity[1] as number, phasor)
      const weight = halfWidthM * (alongU.weights[i] as number) * halfHeightM * (alongV.weights[j] as number)
      made.u[at] = u
      made.v[at] = v
      made.re[at] = weight * (velocity[0] as number) * (phasor[0] as number)
      made.im[at] = -weight * (velocity[0] as number) * (phasor[1] as number)
    }
  }
  return made
}

/**
 * Potential  ∫ v e^{−jkR}/(4πR) dS  of a moving rectangle at any point: plain Gauss points from afar, and from nearby the
 * rectangle is cut at the place nearest to the point into triangles with their tips there, where area and distance
 * shrink together (Duffy's coordinates) so that nothing is singular; strips get finer towards the tip.
 *
 * @param rectangle   see MovingRectangle
 * @param nodes       from rectangleNodes for the same wavenumber
 * @param wavenumber  k, rad/m, 0 or more
 * @param u, v        foot of the point on the plane, m
 * @param heightM     distance of the point from the plane, m, 0 or more
 * @param out         receives the real and the imaginary part
 * Source: M. G. Duffy, SIAM J. Numer. Anal. 19 (1982) 1260–1262.
 * Accuracy: relative error below 1e-5 for points as near as a thousandth of the rectangle, and on it.
 */
export function rectanglePotential(
  rectangle: MovingRectangle,
  nodes: RectangleNodes,
  wavenumber: number,
  u: number,
  v: number,
  heightM: number,
  out: Float64Array,
): void {
  const { halfWidthM, halfHeightM } = rectangle
  const tipU = Math.max(-halfWidthM, Math.min(halfWidthM, u))
  const tipV = Math.max(-halfHeightM, Math.min(halfHeightM, v))
  const distanceM = Math.sqrt((u - tipU) ** 2 + (v - tipV) ** 2 + heightM ** 2)
  out[0] = 0
  out[1] = 0
  if (distanceM > nearSteps * nodes.stepM) {
    addNodes(distanceM > nodes.farM ? nodes.far : nodes, wavenumber, u, v, heightM, out)
  } else if (distanceM > nearestSteps * nodes.stepM) {
    addNodes(nodes.dense(), wavenumber, u, v, heightM, out)
  } else {
    const corners: [number, number][] = [
      [-halfWidthM, -halfHeightM],
      [halfWidthM, -halfHeightM],
      [halfWidthM, halfHeightM],
      [-halfWidthM, halfHeightM],
    ]
    corners.forEach(([fromU, fromV], i) => {
      const [toU, toV] = corners[(i + 1) % 4] as [number, number]
      // Cut the side at the foot of the tip, so that each triangle is right-angled and its far side seen evenly.
      const along = i % 2 === 0
      const cutU = along ? tipU : fromU
      const cutV = along ? fromV : tipV
      addTriangle(rectangle, wavenumber, { u, v, heightM, distanceM }, [tipU, tipV, fromU, fromV, cutU, cutV], out)
      addTriangle(rectangle, wavenumber, { u, v, heightM, distanceM }, [tipU, tipV, cutU, cutV, toU, toV], out)
    })
  }
  out[0] = (out[0] as number) / (4 * Math.PI)
  out[1] = (out[1] as number) / (4 * Math.PI)
}

/** Adds ∫ v e^{−jkR}/R dS by Gauss points. */
function addNodes(nodes: PlainNodes, k: number, u: number, v: number, heightM: number, out: Float64Array): void {
  const count = nodes.u.length
  if (inverses.length < count) {
    inverses = new Float64Array(count)
    cosines = new Float64Array(count)
    sines = new Float64Array(count)
  }
  const squaredHeight = heightM * heightM
  for (let i = 0; i < count; i++) {
    const du = (nodes.u[i] as number) - u
    const dv = (nodes.v[i] as number) - v
    const distance = Math.sqrt(du * du + dv * dv + squaredHeight)
    inverses[i] = 1 / distance
    cosines[i] = k * distance
  }
  setPhasors(cosines, count, cosines, sines)
  let re = 0
  let im = 0
  for (let i = 0; i < count; i++) {
    const c = (cosines[i] as number) * (inverses[i] as number)
    const s = (sines[i] as number) * (inverses[i] as number)
    const a = nodes.re[i] as number
    const b = nodes.im[i] as number
    re += a * c + b * s
    im += b * c - a * s
  }
  out[0] = (out[0] as number) + re
  out[1] = (out[1] as number) + im
}

type NearPoint = { u: number; v: number; heightM: number; distanceM: number }

/**
 * Adds ∫ v e^{−jkR}/R dS over the triangle (tip, from, to), which has a right angle at one end of its far side (from, to).
 *
 * Along the far side the place is a sinh q, a its distance from the tip: however long the side, the angle under which it is seen
 * changes evenly with q. Towards the tip one stretch will do where the point is the tip itself; else they grow from there.
 */
function addTriangle(
  rectangle: MovingRectangle,
  wavenumber: number,
  point: NearPoint,
  [tipU, tipV, fromU, fromV, toU, toV]: [number, number, number, number, number, number],
  out: Float64Array,
): void {
  const fromM = Math.sqrt((fromU - tipU) ** 2 + (fromV - tipV) ** 2)
  const toM = Math.sqrt((toU - tipU) ** 2 + (toV - tipV) ** 2)
  const [nearM, reachM] = [Math.min(fromM, toM), Math.max(fromM, toM)]
  const sideM = Math.sqrt((toU - fromU) ** 2 + (toV - fromV) ** 2)
  if (nearM * sideM < 1e-14 * reachM * reachM || reachM === 0) return
  const [footU, footV] = fromM <= toM ? [fromU, fromV] : [toU, toV]
  const [alongU, alongV] =
    fromM <= toM ? [(toU - fromU) / sideM, (toV - fromV) / sideM] : [(fromU - toU) / sideM, (fromV - toV) / sideM]
  const slope = wavenumber + rectangle.phaseSlopeRadPerM + 1 / rectangle.shortestScaleM
  const lastQ = Math.asinh(sideM / nearM)
  const across = gaussRule(acrossPoints + Math.ceil(lastQ + pointsPerRad * slope * (reachM - nearM)))
  const nearness = point.distanceM / reachM
  const isTip = nearness < onRectangle
  const breaks = isTip ? [0, 1] : growingBreaks(Math.min(1, nearness), phasePerStretchRad / (slope * reachM))
  const along = isTip ? gaussRule(alongPoints + Math.ceil(pointsPerRad * slope * reachM)) : rule
  const squaredHeight = point.heightM * point.heightM
  let re = 0
  let im = 0
  for (let i = 0; i < across.nodes.length; i++) {
    const q = (lastQ / 2) * (1 + (across.nodes[i] as number))
    const placeM = nearM * Math.sinh(q)
    const farU = footU + placeM * alongU - tipU
    const farV = footV + placeM * alongV - tipV
    const acrossWeight = ((across.weights[i] as number) * lastQ * nearM * nearM * Math.cosh(q)) / 2
    for (let stretch = 1; stretch < breaks.length; stretch++) {
      const from = breaks[stretch - 1] as number
      const half = ((breaks[stretch] as number) - from) / 2
      for (let j = 0; j < along.nodes.length; j++) {
        const s = from + half * (1 + (along.nodes[j] as number))
        const placeU = tipU + s * farU
        const placeV = tipV + s * farV
        rectangle.velocityAt(placeU, placeV, velocity)
        const du = placeU - point.u
        const dv = placeV - point.v
        const distance = Math.sqrt(du * du + dv * dv + squaredHeight)
        setPhasor((velocity[1] as number) + wavenumber * distance, phasor)
        const weight = ((velocity[0] as number) * acrossWeight * (along.weights[j] as number) * half * s) / distance
        re += weight * (phasor[0] as number)
        im -= weight * (phasor[1] as number)
      }
    }
  }
  out[0] = (out[0] as number) + re
  out[1] = (out[1] as number) + im
}

/** 0, first, first · growth, … 1, with no stretch wider than `widest`. */
function growingBreaks(first: number, widest: number): number[] {
  const breaks = [0]
  let last = 0
  while (last < 1) {
    const step = Math.min(widest, last === 0 ? first : (stretchGrowth - 1) * last)
    last = last + step > 1 - 1e-9 ? 1 : last + step
    breaks.push(last)
  }
  return breaks
}
