import type { Air } from '../../medium/air.ts'
import type { Point } from '../../point.ts'
import type { Cabinet, Driver } from '../cabinet.ts'
import { type BoxSize, boxEighth, interiorEighth } from './box-mesh.ts'
import { type Apertures, driverApertures } from './driver-apertures.ts'
import {
  type ExteriorBody,
  type ExteriorProblem,
  exteriorSolutions,
  type SurfacePotential,
  type SurfacePressure,
  surfaceIntegral,
} from './exterior-solution.ts'
import type { MeshFineness } from './panel-count.ts'
import { panelMesh } from './panel-mesh.ts'

/** A cabinet's solved surface, in coordinates about the middle of the box. */
export type BoxSolution = {
  cabinet: Cabinet
  frequencyHz: number
  wavenumber: number
  apertures: Apertures
  problem: ExteriorProblem
  surface: SurfacePressure
  /** Panels on the whole surface. */
  unknowns: number
}

/**
 * Solves the sound on the surface of a cabinet by boundary elements; see exteriorSolution for the method.
 *
 * The box is its own mirror image left to right, top to bottom and front to back, so an eighth of it is meshed; what the
 * drivers do is sorted into the up to eight parities. Interior points: three for each resonance of the inside (pressure
 * 0 on its walls) below the frequency, by Weyl's count V k³/6π², and twelve more.
 *
 * @param cabinet      checked
 * @param frequencyHz  checked
 * @param air          checked
 * @param fineness     of the mesh
 */
export function boxSolution(cabinet: Cabinet, frequencyHz: number, air: Air, fineness: MeshFineness): BoxSolution {
  return boxSolutions(cabinet, [cabinet.drivers], frequencyHz, air, fineness)[0] as BoxSolution
}

/** The same box with several sets of drivers, each alone: solved together, at little more than the cost of one. */
export function boxSolutions(
  { widthM, heightM, depthM }: BoxSize,
  driverSets: readonly Driver[][],
  frequencyHz: number,
  air: Air,
  fineness: MeshFineness,
): BoxSolution[] {
  const size = { widthM, heightM, depthM }
  const omega = 2 * Math.PI * frequencyHz
  const wavenumber = omega / air.speedOfSoundMps
  const widestM = air.speedOfSoundMps / frequencyHz / fineness.elementsPerWavelength
  const volumeM3 = widthM * heightM * depthM
  const resonancesOfEighth = (volumeM3 * wavenumber ** 3) / (6 * Math.PI ** 2) / 8
  const body: ExteriorBody = {
    mesh: panelMesh(boxEighth(size, widestM, fineness.fewestPanels)),
    planes: { x: true, y: true, z: true },
    movingPlaneZM: depthM / 2,
    wavenumber,
    interiorPoints: interiorEighth(size, 12 + Math.ceil(3 * resonancesOfEighth)),
  }
  const moving = driverSets.map((drivers) => {
    const apertures = driverApertures(drivers, frequencyHz, wavenumber)
    return { drivers, apertures, velocityPotential: potentialOf(apertures, depthM, omega * air.densityKgM3) }
  })
  const surfaces = exteriorSolutions(
    body,
    moving.map(({ velocityPotential }) => velocityPotential),
  )
  return moving.map(({ drivers, apertures, velocityPotential }, set) => ({
    cabinet: { ...size, drivers },
    frequencyHz,
    wavenumber,
    apertures,
    problem: { ...body, velocityPotential },
    surface: surfaces[set] as SurfacePressure,
    unknowns: 8 * body.mesh.count,
  }))
}

/** jωρ times the apertures' potential, about the middle of the box. */
function potentialOf(apertures: Apertures, depthM: number, omegaRho: number): SurfacePotential {
  const potential = new Float64Array(2)
  const add: SurfacePotential = (x, y, z, out) => {
    potential.fill(0)
    apertures.addPotential(x, y, z - depthM / 2, potential)
    out[0] = (out[0] as number) - omegaRho * (potential[1] as number)
    out[1] = (out[1] as number) + omegaRho * (potential[0] as number)
  }
  add.alike = { x: apertures.parts.every(({ xM }) => xM === 0), y: apertures.parts.every(({ yM }) => yM === 0) }
  return add
}

/** Points closer to the box than this share of its longest edge are moved out to it, off the jump at the surface. */
const surfaceShare = 1e-4

/**
 * Pressure near a solved cabinet, in the cabinet's own coordinates, Pa.
 *
 * @param solution  from boxSolution
 * @param point     outside the box or on its surface
 * Accuracy: that of the mesh; nearer to the surface than half a panel it steps from panel to panel by some tenths of a dB.
 */
export function boxPressureAt(solution: BoxSolution, point: Point): { re: number; im: number } {
  const { widthM, heightM, depthM } = solution.cabinet
  const slackM = surfaceShare * Math.max(widthM, heightM, depthM)
  const place = { xM: point.xM, yM: point.yM, zM: point.zM + depthM / 2 }
  const overX = Math.abs(place.xM) - widthM / 2
  const overY = Math.abs(place.yM) - heightM / 2
  const overZ = Math.abs(place.zM) - depthM / 2
  const over = Math.max(overX, overY, overZ)
  if (over < slackM) {
    if (over === overX) place.xM = Math.sign(place.xM) * (widthM / 2 + slackM)
    else if (over === overY) place.yM = Math.sign(place.yM) * (heightM / 2 + slackM)
    else place.zM = Math.sign(place.zM) * (depthM / 2 + slackM)
  }
  return surfaceIntegral(solution.surface, solution.problem, place)
}

/**
 * Power through the drivers,  W = ½ Re ∫ p v* dS, W. On the front face the panels of that face do not act on each other,
 * so the pressure at any place of it is twice the surface integral there, to better than one panel's accuracy.
 *
 * @param solution  from boxSolution
 */
export function surfacePowerW({ cabinet, apertures, problem, surface }: BoxSolution): number {
  const { x, y, re, im } = apertures.nodes
  let sum = 0
  for (let i = 0; i < x.length; i++) {
    const place = { xM: x[i] as number, yM: y[i] as number, zM: cabinet.depthM / 2 }
    const p = surfaceIntegral(surface, problem, place)
    sum += 2 * (p.re * (re[i] as number) + p.im * (im[i] as number))
  }
  return sum / 2
}
