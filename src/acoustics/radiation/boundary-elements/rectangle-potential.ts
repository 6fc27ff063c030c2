import { gaussLegendre } from '../../special/gauss-legendre.ts'

/** Receives the complex velocity at a place of the rectangle. */
export type VelocityAt = (u: number, v: number, out: Float64Array) => void

/** A flat rectangle about (0, 0) whose velocity differs from place to place. */
export type MovingRectangle = {
  halfWidthM: number
  halfHeightM: number
  /** Velocity, any unit; smooth. */
  velocityAt: VelocityAt
  /** Steepest change of the velocity's phase along the rectangle, rad/m. */
  phaseSlopeRadPerM: number
  /** Shortest distance over which the velocity's magnitude changes by much, m. */
  shortestScaleM: number
}

const rule = gaussLegendre(8)

/** A stretch under an eight-point rule may span this much phase, rad. */
const phasePerStretchRad = 12

/** Points nearer than so many steps between Gauss points are integrated about their nearest place. */
const nearSteps = 2

/** Points nearer than this share of a triangle count as on it, where the integrand is smooth again. */
const onRectangle = 1e-5

/** Stretches grow by this factor away from a near point. */
const stretchGrowth = 5

/** Gauss points of a moving rectangle with the velocity already in them. */
export type RectangleNodes = {
  u: Float64Array
  v: Float64Array
  re: Float64Array
  im: Float64Array
  /** Widest step between neighbours, m. */
  stepM: number
}

/**
 * Gauss points over a moving rectangle:  ∫ f v dS ≈ Σ (re + j im) f(u, v).
 *
 * @param rectangle   see MovingRectangle
 * @param wavenumber  k of the functions f to be integrated, rad/m
 */
export function rectangleNodes(rectangle: MovingRectangle, wavenumber: number): RectangleNodes {
  const u = nodesAlong(rectangle.halfWidthM, rectangle, wavenumber)
  const v = nodesAlong(rectangle.halfHeightM, rectangle, wavenumber)
  const count = u.nodes.length * v.nodes.length
  const made = [0, 1, 2, 3].map(() => new Float64Array(count)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ]
  const velocity = new Float64Array(2)
  for (let i = 0, at = 0; i < u.nodes.length; i++) {
    for (let j = 0; j < v.nodes.length; j++, at++) {
      rectangle.velocityAt(u.nodes[i] as number, v.nodes[j] as number, velocity)
      const weight = (u.weights[i] as number) * (v.weights[j] as number)
      made[0][at] = u.nodes[i] as number
      made[1][at] = v.nodes[j] as number
      made[2][at] = weight * (velocity[0] as number)
      made[3][at] = weight * (velocity[1] as number)
    }
  }
  // Gauss points are farthest apart in the middle, by π/N of half the side.
  const stepM = Math.PI * Math.max(rectangle.halfWidthM / u.nodes.length, rectangle.halfHeightM / v.nodes.length)
  return { u: made[0], v: made[1], re: made[2], im: made[3], stepM }
}

function nodesAlong(
  halfM: number,
  { phaseSlopeRadPerM, shortestScaleM }: MovingRectangle,
  wavenumber: number,
): { nodes: Float64Array; weights: Float64Array } {
  const count = 8 + Math.ceil((wavenumber + phaseSlopeRadPerM) * halfM) + Math.ceil((6 * halfM) / shortestScaleM)
  const unit = gaussLegendre(count)
  return { nodes: unit.nodes.map((x) => halfM * x), weights: unit.weights.map((w) => halfM * w) }
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
  const distanceM = Math.hypot(u - tipU, v - tipV, heightM)
  let re = 0
  let im = 0
  if (distanceM > nearSteps * nodes.stepM) {
    for (let i = 0; i < nodes.u.length; i++) {
      const du = (nodes.u[i] as number) - u
      const dv = (nodes.v[i] as number) - v
      const distance = Math.sqrt(du * du + dv * dv + heightM * heightM)
      const c = Math.cos(wavenumber * distance) / distance
      const s = Math.sin(wavenumber * distance) / distance
      const a = nodes.re[i] as number
      const b = nodes.im[i] as number
      re += a * c + b * s
      im += b * c - a * s
    }
  } else {
    out.fill(0)
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
    re = out[0] as number
    im = out[1] as number
  }
  out[0] = re / (4 * Math.PI)
  out[1] = im / (4 * Math.PI)
}

type NearPoint = { u: number; v: number; heightM: number; distanceM: number }

/** Adds ∫ v e^{−jkR}/R dS over the triangle (tip, from, to). */
function addTriangle(
  rectangle: MovingRectangle,
  wavenumber: number,
  point: NearPoint,
  [tipU, tipV, fromU, fromV, toU, toV]: [number, number, number, number, number, number],
  out: Float64Array,
): void {
  const twiceArea = Math.abs((fromU - tipU) * (toV - tipV) - (fromV - tipV) * (toU - tipU))
  const reachM = Math.max(Math.hypot(fromU - tipU, fromV - tipV), Math.hypot(toU - tipU, toV - tipV))
  if (twiceArea < 1e-14 * reachM * reachM || reachM === 0) return
  const { nodes, weights } = rule
  const slope = wavenumber + rectangle.phaseSlopeRadPerM + 1 / rectangle.shortestScaleM
  const widest = phasePerStretchRad / (slope * reachM)
  const sideM = Math.hypot(toU - fromU, toV - fromV)
  const nearSideM = Math.min(Math.hypot(fromU - tipU, fromV - tipV), Math.hypot(toU - tipU, toV - tipV))
  // A long far side close to the tip is seen under a quickly changing angle: its stretches grow from the nearer end.
  const nearEndFirst = Math.hypot(fromU - tipU, fromV - tipV) <= Math.hypot(toU - tipU, toV - tipV)
  const acrossBreaks = growingBreaks(Math.min(1, nearSideM / sideM), widest)
  const nearness = point.distanceM / reachM
  const alongBreaks = growingBreaks(nearness < onRectangle ? 1 : Math.min(1, nearness), widest)
  const velocity = new Float64Array(2)
  let re = 0
  let im = 0
  for (let a = 1; a < acrossBreaks.length; a++) {
    const acrossHalf = ((acrossBreaks[a] as number) - (acrossBreaks[a - 1] as number)) / 2
    for (let i = 0; i < nodes.length; i++) {
      const t = (acrossBreaks[a - 1] as number) + acrossHalf * (1 + (nodes[i] as number))
      const share = nearEndFirst ? t : 1 - t
      const farU = fromU + share * (toU - fromU)
      const farV = fromV + share * (toV - fromV)
      for (let b = 1; b < alongBreaks.length; b++) {
        const alongHalf = ((alongBreaks[b] as number) - (alongBreaks[b - 1] as number)) / 2
        for (let j = 0; j < nodes.length; j++) {
          const s = (alongBreaks[b - 1] as number) + alongHalf * (1 + (nodes[j] as number))
          const placeU = tipU + s * (farU - tipU)
          const placeV = tipV + s * (farV - tipV)
          rectangle.velocityAt(placeU, placeV, velocity)
          const distance = Math.hypot(placeU - point.u, placeV - point.v, point.heightM)
          const weight =
            ((weights[i] as number) * acrossHalf * (weights[j] as number) * alongHalf * s * twiceArea) / distance
          const c = weight * Math.cos(wavenumber * distance)
          const d = weight * Math.sin(wavenumber * distance)
          re += (velocity[0] as number) * c + (velocity[1] as number) * d
          im += (velocity[1] as number) * c - (velocity[0] as number) * d
        }
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
