import type { Complex } from '../../../src/acoustics/complex.ts'
import type { Air } from '../../../src/acoustics/medium/air.ts'
import type { Point } from '../../../src/acoustics/point.ts'
import { driverApertures } from '../../../src/acoustics/radiation/boundary-elements/driver-apertures.ts'
import type { MirrorPlanes } from '../../../src/acoustics/radiation/boundary-elements/mirror-planes.ts'
import { radicalInverse } from '../../../src/acoustics/radiation/boundary-elements/radical-inverse.ts'
import { positivePart } from '../../../src/acoustics/radiation/box-group/box-union.ts'
import { bodyOf, type GroupBox } from '../../../src/acoustics/radiation/box-group/group-geometry.ts'
import { type ExteriorBody, exteriorSolution, type SurfacePotential, surfaceIntegral } from './exterior-solution.ts'
import { groupQuads } from './group-mesh.ts'
import { panelMesh } from './panel-mesh.ts'

/**
 * Boxes in each other's way by another method: panels of even pressure and least squares, where the site has polynomials and
 * steps. Both share the integral equation, the apertures and how touching boxes are joined. A floor is made of image boxes.
 *
 * @param planes   planes through the origin in which the boxes are their own mirror image; y with a hard floor
 * @param widestM  greatest panel edge, m
 * @returns        the pressure with one box's drivers moving with 1 m³/s, Pa
 */
export function panelGroup(
  boxes: readonly GroupBox[],
  driven: number,
  { hardFloor, ...planes }: MirrorPlanes & { hardFloor: boolean },
  frequencyHz: number,
  air: Air,
  widestM: number,
): (point: Point) => Complex {
  const omega = 2 * Math.PI * frequencyHz
  const wavenumber = omega / air.speedOfSoundMps
  const bodies = boxes.map(bodyOf)
  const body: ExteriorBody = {
    mesh: panelMesh(groupQuads(bodies, planes, widestM, 2)),
    planes,
    wavenumber,
    interiorPoints: bodies.flatMap((box) => {
      const part = positivePart(box, planes)
      if (!part) return []
      return Array.from({ length: 8 }, (_, i) => {
        const at = (axis: 0 | 1 | 2, base: number) =>
          part.from[axis] + (0.1 + 0.8 * radicalInverse(i + 1, base)) * (part.to[axis] - part.from[axis])
        return { xM: at(0, 2), yM: at(1, 3), zM: at(2, 5) }
      })
    }),
  }
  const { cabinet, position, turned } = boxes[driven] as GroupBox
  const { addPotential } = driverApertures(cabinet.drivers, frequencyHz, wavenumber)
  const way = turned ? -1 : 1
  const velocityPotential: SurfacePotential = (x, y, z, out) => {
    const sum = new Float64Array(2)
    for (const side of hardFloor ? [1, -1] : [1]) {
      addPotential(way * (x - position.xM), side * y - position.yM, way * (z - position.zM), sum)
    }
    out[0] = (out[0] as number) - omega * air.densityKgM3 * (sum[1] as number)
    out[1] = (out[1] as number) + omega * air.densityKgM3 * (sum[0] as number)
  }
  velocityPotential.movingPlaneZM = position.zM
  const problem = { ...body, velocityPotential }
  const solution = exteriorSolution(problem)
  return (point) => surfaceIntegral(solution, problem, point)
}
