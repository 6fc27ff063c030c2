import type { Air } from '../../src/acoustics/medium/air.ts'
import type { Point } from '../../src/acoustics/point.ts'
import { type BoxSize, boxEighth, interiorEighth } from '../../src/acoustics/radiation/boundary-elements/box-mesh.ts'
import type { MeshFineness } from '../../src/acoustics/radiation/boundary-elements/box-solution.ts'
import { driverApertures } from '../../src/acoustics/radiation/boundary-elements/driver-apertures.ts'
import {
  type ExteriorProblem,
  exteriorSolution,
  type SurfacePotential,
  surfaceIntegral,
} from '../../src/acoustics/radiation/boundary-elements/exterior-solution.ts'
import { panelMesh, type Quad } from '../../src/acoustics/radiation/boundary-elements/panel-mesh.ts'
import type { Cabinet } from '../../src/acoustics/radiation/cabinet.ts'

/**
 * Two equal boxes one behind the other, both facing +z, one of them driven and the other in its way. The origin is halfway
 * between the boxes' middles. The pair of bodies is its own mirror image left to right, top to bottom and about the plane
 * between the boxes, so a quarter of the front box is meshed.
 */
export type TwoBoxes = {
  /** Pressure, Pa, with one box driven by 1 m³/s and the other still; outside both. */
  pressureAt(driven: 'front' | 'rear', point: Point): { re: number; im: number }
  /** Power through the driver of one box, W. */
  powerW(driven: 'front' | 'rear'): number
  /** Mean pressure on the other box's driver, Pa. */
  crossPressurePa(driven: 'front' | 'rear'): { re: number; im: number }
  panels: number
}

/**
 * @param box       size and drivers, these even about the middle of the face
 * @param spacingM  from front to front, more than the depth
 */
export function twoBoxes(
  box: Cabinet,
  spacingM: number,
  frequencyHz: number,
  air: Air,
  fineness: MeshFineness,
): TwoBoxes {
  const omega = 2 * Math.PI * frequencyHz
  const wavenumber = omega / air.speedOfSoundMps
  const widestM = air.speedOfSoundMps / frequencyHz / fineness.elementsPerWavelength
  const mesh = panelMesh(quarterOfFrontBox(box, spacingM, widestM, fineness.fewestPanels))
  const apertures = driverApertures(box.drivers, frequencyHz, wavenumber)
  const faceZM = { front: (spacingM + box.depthM) / 2, rear: (box.depthM - spacingM) / 2 }
  const interiorPoints = interiorEighth(box, 12).flatMap(({ xM, yM, zM }) => [
    { xM, yM, zM: spacingM / 2 + zM },
    { xM, yM, zM: spacingM / 2 - zM },
  ])
  const solve = (driven: 'front' | 'rear') => {
    const velocityPotential: SurfacePotential = (x, y, z, out) => {
      const potential = new Float64Array(2)
      apertures.addPotential(x, y, z - faceZM[driven], potential)
      out[0] = (out[0] as number) - omega * air.densityKgM3 * (potential[1] as number)
      out[1] = (out[1] as number) + omega * air.densityKgM3 * (potential[0] as number)
    }
    velocityPotential.alike = { x: true, y: true }
    const problem: ExteriorProblem = {
      mesh,
      planes: { x: true, y: true, z: true },
      movingPlaneZM: faceZM[driven],
      wavenumber,
      interiorPoints,
      velocityPotential,
    }
    return { problem, surface: exteriorSolution(problem) }
  }
  const solved = { front: solve('front'), rear: solve('rear') }
  const pressureAt: TwoBoxes['pressureAt'] = (driven, point) =>
    surfaceIntegral(solved[driven].surface, solved[driven].problem, point)
  const overDriver = (driven: 'front' | 'rear', of: 'front' | 'rear') => {
    const { x, y, re } = apertures.nodes
    const mean = { re: 0, im: 0 }
    for (let i = 0; i < x.length; i++) {
      // On the surface the integral gives half.
      const p = pressureAt(driven, { xM: x[i] as number, yM: y[i] as number, zM: faceZM[of] })
      mean.re += 2 * (re[i] as number) * p.re
      mean.im += 2 * (re[i] as number) * p.im
    }
    return mean
  }
  return {
    pressureAt,
    powerW: (driven) => overDriver(driven, driven).re / 2,
    crossPressurePa: (driven) => overDriver(driven, driven === 'front' ? 'rear' : 'front'),
    panels: 8 * mesh.count,
  }
}

function quarterOfFrontBox(box: BoxSize, spacingM: number, widestM: number, fewestPanels: number): Quad[] {
  const moved = ({ xM, yM, zM }: Point, sign: 1 | -1): Point => ({ xM, yM, zM: spacingM / 2 + sign * zM })
  return boxEighth(box, widestM, fewestPanels).flatMap(([a, b, c, d]): Quad[] => [
    [moved(a, 1), moved(b, 1), moved(c, 1), moved(d, 1)],
    // Mirrored, so that the corners run the other way round.
    [moved(d, -1), moved(c, -1), moved(b, -1), moved(a, -1)],
  ])
}
