import { add, type Complex } from '../../complex.ts'
import type { Air } from '../../medium/air.ts'
import type { Point } from '../../point.ts'
import { leastSquaresSolver } from '../boundary-elements/complex-least-squares.ts'
import { type Apertures, driverApertures } from '../boundary-elements/driver-apertures.ts'
import { sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import type { BoxSize, Cabinet, Driver } from '../cabinet.ts'
import { boxDoubleLayer, boxImages } from './box-double-layer.ts'
import { type BoxEquations, equationsFor } from './box-equations.ts'
import type { BoxPoints } from './box-points.ts'
import { type BoxRightSide, boxRightSide } from './box-right-side.ts'
import { boxSystem } from './box-system.ts'
import { usualPointsPerWavelength } from './point-count.ts'

/** Pressure on the surface of a box. */
export type BoxPressure = {
  points: BoxPoints
  wavenumber: number
  /** Point j's image g (see boxImages) at g · points.count + j, Pa; on the front as projectOnFace has it. */
  re: Float64Array
  im: Float64Array
  /** Greatest residual of the overdetermined equations over their right-hand side. */
  relativeResidual: number
}

/** A cabinet's solved surface, in coordinates about the middle of the box. */
export type BoxSolution = BoxPressure & {
  cabinet: Cabinet
  frequencyHz: number
  /** ωρ, kg/(m³ s). */
  omegaRho: number
  apertures: Apertures
  /** Points on the whole surface. */
  unknowns: number
}

/**
 * Solves the sound on the surface of a rigid box in free space, from the direct boundary integral (time factor e^{+jωt}, n into
 * the air), tested at the points x of the surface and at interior points x′:
 *
 *   ½ p(x) − ∫ p ∂G/∂n dS = jωρ ∫ G v dS,        −∫ p ∂G/∂n dS = jωρ ∫ G v dS  at x′
 *
 * The second row makes the solution unique at the resonances of the box's inside; both together are solved by least squares
 * (CHIEF), which needs the surface velocity only through its potential: a driver's aperture is integrated exactly.
 *
 * On each quarter of a face the pressure is a polynomial in two parameters that are stretched towards the edges (edgeRule), so that
 * the error falls faster than any power of the number of points. Faces do not act on their own plane, and the integrals over
 * those that meet it are made for the place (nearIntegrals) and kept. What the drivers send along the front is projected
 * (projectOnFace). The box is its own mirror image left to right, top to bottom and front to back: an eighth is solved, for each
 * of the up to eight parities that the drivers excite.
 *
 * @param cabinet              checked
 * @param frequencyHz          checked
 * @param air                  checked
 * @param pointsPerWavelength  3 … 40; see pointsAlong
 * @throws RangeError if the equations are singular
 * Source: H. A. Schenck, J. Acoust. Soc. Am. 44 (1968) 41–58 (interior points); Morse & Ingard, Theoretical Acoustics,
 *         section 7.1 (the integral).
 */
export function boxSolution(
  cabinet: Cabinet,
  frequencyHz: number,
  air: Air,
  pointsPerWavelength = usualPointsPerWavelength,
): BoxSolution {
  return boxSolutions(cabinet, [cabinet.drivers], frequencyHz, air, pointsPerWavelength)[0] as BoxSolution
}

/** The same box with several sets of drivers, each alone: solved together, at little more than the cost of one. */
export function boxSolutions(
  { widthM, heightM, depthM }: BoxSize,
  driverSets: readonly Driver[][],
  frequencyHz: number,
  air: Air,
  pointsPerWavelength = usualPointsPerWavelength,
): BoxSolution[] {
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const equations = equationsFor({ widthM, heightM, depthM }, wavenumber, pointsPerWavelength)
  return solutionsOf(equations, driverSets, frequencyHz, air)
}

/** Solves the equations of a mesh, whatever it was made for. */
export function solutionsOf(
  equations: BoxEquations,
  driverSets: readonly Driver[][],
  frequencyHz: number,
  air: Air,
): BoxSolution[] {
  const omega = 2 * Math.PI * frequencyHz
  const wavenumber = omega / air.speedOfSoundMps
  const omegaRho = omega * air.densityKgM3
  const { points } = equations
  const moving = driverSets.map((drivers) => driverApertures(drivers, frequencyHz, wavenumber))
  const sides = driverSets.map((drivers, set) =>
    boxRightSide(equations, drivers, moving[set] as Apertures, wavenumber, omegaRho),
  )
  return boxPressures(equations, sides, wavenumber).map((pressure, set) => ({
    ...pressure,
    cabinet: { ...points.size, drivers: driverSets[set] as Driver[] },
    frequencyHz,
    omegaRho,
    apertures: moving[set] as Apertures,
    unknowns: boxImages.length * points.count,
  }))
}

/** Pressure on a box for each of some right-hand sides; what has no side of a parity costs nothing. */
export function boxPressures(
  equations: BoxEquations,
  sides: readonly BoxRightSide[],
  wavenumber: number,
): BoxPressure[] {
  const { points, rows } = equations
  const wanted = boxImages.map((_, parity) => sides.some(({ present }) => present[parity]))
  const solved = sides.map(
    (): BoxPressure => ({
      points,
      wavenumber,
      re: new Float64Array(boxImages.length * points.count),
      im: new Float64Array(boxImages.length * points.count),
      relativeResidual: 0,
    }),
  )
  for (const [parity, matrix] of boxSystem(equations, wavenumber, wanted).entries()) {
    if (!matrix) continue
    const solve = leastSquaresSolver(matrix)
    for (const [set, { re, im, present }] of sides.entries()) {
      if (!present[parity]) continue
      const [from, to] = [parity * rows, (parity + 1) * rows]
      const part = solve({ re: re.subarray(from, to), im: im.subarray(from, to) })
      const pressure = solved[set] as BoxPressure
      pressure.relativeResidual = Math.max(pressure.relativeResidual, part.relativeResidual)
      pressure.re.set(part.re, parity * points.count)
      pressure.im.set(part.im, parity * points.count)
    }
  }
  for (const { re, im } of solved) {
    sortPanelParities(re, boxImages.length)
    sortPanelParities(im, boxImages.length)
  }
  return solved
}

/** Points closer to the box than this share of its longest edge are moved out to it, off the jump at the surface. */
const surfaceShare = 1e-6

/**
 * Pressure near a solved cabinet, in the cabinet's own coordinates, Pa.
 *
 * @param solution  from boxSolution
 * @param point     outside the box or on its surface
 */
export function boxPressureAt(solution: BoxSolution, point: Point): Complex {
  const { widthM, heightM, depthM } = solution.cabinet
  const slackM = surfaceShare * Math.max(widthM, heightM, depthM)
  const place: [number, number, number] = [point.xM, point.yM, point.zM + depthM / 2]
  const halvesM = [widthM / 2, heightM / 2, depthM / 2]
  const overs = place.map((coordinate, axis) => Math.abs(coordinate) - (halvesM[axis] as number))
  const over = Math.max(...overs)
  if (over < slackM) {
    const axis = overs.indexOf(over)
    place[axis] = Math.sign(place[axis] as number) * ((halvesM[axis] as number) + slackM)
  }
  return boxIntegral(solution, place)
}

/**
 * The surface integral  ∫ p ∂G/∂n dS + jωρ ∫ G v dS  at a place about the middle of the box, Pa: outside it is the pressure, on a
 * face half of it, inside 0.
 */
export function boxIntegral(solution: BoxSolution, place: readonly [number, number, number]): Complex {
  const { cabinet, omegaRho, apertures } = solution
  const out = new Float64Array(2)
  apertures.addPotential(place[0], place[1], place[2] - cabinet.depthM / 2, out)
  return add(thrownBack(solution, place), { re: -omegaRho * (out[1] as number), im: omegaRho * (out[0] as number) })
}

/** ∫ p ∂G/∂n dS at a place about the middle of the box, Pa: what the box itself adds to the sound of the source. */
export function thrownBack(
  { points, wavenumber, ...pressure }: BoxPressure,
  [x, y, z]: readonly [number, number, number],
): Complex {
  let re = 0
  let im = 0
  const rowRe = new Float64Array(points.count)
  const rowIm = new Float64Array(points.count)
  for (const [image, [sx, sy, sz]] of boxImages.entries()) {
    boxDoubleLayer(points, wavenumber, [sx * x, sy * y, sz * z], rowRe, rowIm)
    for (let j = 0, at = image * points.count; j < points.count; j++, at++) {
      const pRe = pressure.re[at] as number
      const pIm = pressure.im[at] as number
      const dRe = rowRe[j] as number
      const dIm = rowIm[j] as number
      re += pRe * dRe - pIm * dIm
      im += pRe * dIm + pIm * dRe
    }
  }
  return { re, im }
}

/**
 * Power through the drivers,  W = ½ Re ∫ p v* dS, W. The faces do not act on their own plane, so the pressure at any place of the
 * front is twice the surface integral there.
 *
 * @param solution  from boxSolution
 */
export function surfacePowerW(solution: BoxSolution): number {
  const { x, y, re, im } = solution.apertures.nodes
  const frontZM = solution.cabinet.depthM / 2
  let sum = 0
  for (let i = 0; i < x.length; i++) {
    const p = boxIntegral(solution, [x[i] as number, y[i] as number, frontZM])
    sum += 2 * (p.re * (re[i] as number) + p.im * (im[i] as number))
  }
  return sum / 2
}
