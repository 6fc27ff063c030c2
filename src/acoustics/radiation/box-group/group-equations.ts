import type { Point } from '../../point.ts'
import { imageSigns, type MirrorPlanes } from '../boundary-elements/mirror-planes.ts'
import { radicalInverse } from '../boundary-elements/radical-inverse.ts'
import { correctionsAt } from '../box-surface/box-double-layer.ts'
import { testPlace } from '../box-surface/box-equations.ts'
import { type SurfacePoints, surfacePoints } from '../box-surface/box-points.ts'
import { sideRule } from '../box-surface/edge-rule.ts'
import { type AxisBox, nextAxis, positivePart, unionSurface, type Vector } from './box-union.ts'

/** What the equations of a group have in common at every frequency of its mesh. */
export type GroupEquations = {
  points: SurfacePoints
  planes: MirrorPlanes
  images: [number, number, number][]
  interiorPoints: readonly Point[]
  /** Points of the surface, then interior points. */
  rows: number
  /** Parities that can be excited at all (see sortParities). */
  wanted: boolean[]
  /** Static corrections (see correctionsAt) of each wanted parity, row after row. */
  cubes: (Float64Array | undefined)[]
  inverses: (Float64Array | undefined)[]
}

/** How fine a mesh is: points along a side of a rectangle that is as long as the shortest of the group, in the longest wave. */
export const usualPointsOfSide = 5

/** Points along a side for each time that it is longer than the shortest, beyond the first. */
const pointsPerLength = 1

/** Points along a side for a radian of the wave over it. */
const pointsPerRadian = 0.5

/** A rectangle that is halved by a mirror plane takes this share of the points of the whole. */
const halfShare = 0.8

/**
 * The mesh of a group: Gauss points on each rectangle of its surface (see sideRule), and the quadrature between rectangles
 * that are near each other.
 *
 * @param bodies        the whole group, about the origin
 * @param planes        mirror planes of the bodies
 * @param oddIn         planes in which what the boxes play need not be its own mirror image
 * @param wavenumber    the highest that it is for, rad/m
 * @param pointsOfSide  3 … 16, see usualPointsOfSide
 * @param mostPoints    on the meshed part
 * @throws RangeError   for more points
 */
export function groupEquations(
  bodies: readonly AxisBox[],
  planes: MirrorPlanes,
  oddIn: MirrorPlanes,
  wavenumber: number,
  pointsOfSide: number,
  mostPoints: number,
): GroupEquations {
  const mirrored = [planes.x, planes.y, planes.z]
  const rectangles = unionSurface(bodies, planes)
  const wholeM = (side: readonly [number, number], axis: number) =>
    mirrored[axis] && side[0] === 0 ? 2 * side[1] : side[1] - side[0]
  const shortestM = Math.min(...bodies.flatMap(({ from, to }) => from.map((low, axis) => (to[axis] as number) - low)))
  const share = pointsOfSide / usualPointsOfSide
  const rule = (side: readonly [number, number], axis: number) => {
    const lengthM = wholeM(side, axis)
    const whole =
      usualPointsOfSide +
      pointsPerLength * Math.max(0, lengthM / shortestM - 1) +
      pointsPerRadian * wavenumber * lengthM
    const halved = mirrored[axis] && side[0] === 0
    return sideRule(side[0], side[1], !halved, Math.max(2, Math.round(share * whole * (halved ? halfShare : 1))))
  }
  const points = surfacePoints(
    rectangles.map(({ axis, sign, at, u, v }) => {
      const uAxis = nextAxis(axis)
      const vAxis = nextAxis(uAxis)
      return { axis, normal: sign, uAxis, vAxis, atM: at, u: rule(u, uAxis), v: rule(v, vAxis) }
    }),
  )
  if (points.count > mostPoints) {
    throw new RangeError(
      `the boxes take ${points.count} points at this frequency; allowed are boxes and frequencies that take up to ${mostPoints}`,
    )
  }
  const interiorPoints = bodies.flatMap((box) => interiorOf(positivePart(box, planes), wavenumber))
  const images = imageSigns(planes)
  const oddBits = oddBitsOf(planes, oddIn)
  const wanted = images.map((_, parity) => (parity & ~oddBits) === 0)
  const rows = points.count + interiorPoints.length
  const make = () => wanted.map((want) => (want ? new Float64Array(rows * points.count) : undefined))
  const made = { points, planes, images, interiorPoints, rows, wanted, cubes: make(), inverses: make() }
  setCorrections(made)
  return made
}

/** Bits of the parities that may be odd: one bit a mirror plane, in the order of imageSigns. */
function oddBitsOf(planes: MirrorPlanes, oddIn: MirrorPlanes): number {
  let bit = 1
  let bits = 0
  for (const axis of ['x', 'y', 'z'] as const) {
    if (!planes[axis]) continue
    if (oddIn[axis]) bits |= bit
    bit *= 2
  }
  return bits
}

/** χ(g): −1 to the number of bits that a parity and an image share. */
export const signIn = (parity: number, image: number): 1 | -1 => {
  let shared = parity & image
  let sign: 1 | -1 = 1
  for (; shared; shared &= shared - 1) sign = sign === 1 ? -1 : 1
  return sign
}

function setCorrections({ points, images, rows, interiorPoints, cubes, inverses, wanted }: GroupEquations): void {
  for (let row = 0; row < rows; row++) {
    const [x, y, z] = testPlace({ points, interiorPoints }, row)
    for (const [image, [sx, sy, sz]] of images.entries()) {
      correctionsAt(points, [sx * x, sy * y, sz * z], (j, cube, inverse) => {
        const at = row * points.count + j
        for (const [parity, want] of wanted.entries()) {
          if (!want) continue
          const sign = signIn(parity, image)
          const [cubesOf, inversesOf] = [cubes[parity] as Float64Array, inverses[parity] as Float64Array]
          cubesOf[at] = (cubesOf[at] as number) + sign * cube
          inversesOf[at] = (inversesOf[at] as number) + sign * inverse
        }
      })
    }
  }
}

/**
 * Points spread through the inner part of a box: three for each resonance of its inside below the frequency, by Weyl's
 * count V k³/6π², and four more. Halton's sequence, as in interiorEighth.
 */
function interiorOf(box: AxisBox | null, wavenumber: number): Point[] {
  if (!box) return []
  const size = box.to.map((high, axis) => high - (box.from[axis] as number)) as unknown as Vector
  const count = 4 + Math.ceil((3 * size[0] * size[1] * size[2] * wavenumber ** 3) / (6 * Math.PI ** 2))
  const at = (axis: 0 | 1 | 2, share: number) => box.from[axis] + (0.15 + 0.7 * share) * size[axis]
  return Array.from({ length: count }, (_, i) => ({
    xM: at(0, radicalInverse(i + 1, 2)),
    yM: at(1, radicalInverse(i + 1, 3)),
    zM: at(2, radicalInverse(i + 1, 5)),
  }))
}
