import type { Point } from '../../../src/acoustics/point.ts'
import type { MirrorPlanes } from '../../../src/acoustics/radiation/boundary-elements/mirror-planes.ts'
import {
  type AxisBox,
  nextAxis,
  type Rectangle,
  unionSurface,
} from '../../../src/acoustics/radiation/box-group/box-union.ts'
import { gradedHalf } from './graded-half.ts'
import type { Quad } from './panel-mesh.ts'

/**
 * The surface of boxes (see unionSurface) in panels. Panels are graded as a single box's are, towards every end but one in a mirror plane: see gradedHalf.
 *
 * @param boxes    the whole group, mirrored in `planes` into itself; no box in another
 * @param planes   through the origin
 * @param widestM  greatest panel edge, m
 * @param fewest   at least this many even panels along half of each edge
 */
export function groupQuads(boxes: readonly AxisBox[], planes: MirrorPlanes, widestM: number, fewest: number): Quad[] {
  const mirrored = [planes.x, planes.y, planes.z] as const
  return unionSurface(boxes, planes).flatMap((rectangle) => tiles(rectangle, mirrored, widestM, fewest))
}

function tiles(
  { axis, sign, at, u, v }: Rectangle,
  mirrored: readonly boolean[],
  widestM: number,
  fewest: number,
): Quad[] {
  const [uAxis, vAxis] = [nextAxis(axis), nextAxis(nextAxis(axis))]
  const us = places(u, mirrored[uAxis] === true, widestM, fewest)
  const vs = places(v, mirrored[vAxis] === true, widestM, fewest)
  const point = (a: number, b: number): Point => {
    const place = [0, 0, 0]
    place[axis] = at
    place[uAxis] = a
    place[vAxis] = b
    const [xM, yM, zM] = place as [number, number, number]
    return { xM, yM, zM }
  }
  const quads: Quad[] = []
  for (let i = 1; i < us.length; i++) {
    for (let j = 1; j < vs.length; j++) {
      const [a, b, c, d] = [us[i - 1], us[i], vs[j - 1], vs[j]] as [number, number, number, number]
      const corners = [point(a, c), point(b, c), point(b, d), point(a, d)] as const
      quads.push(sign > 0 ? corners : [corners[3], corners[2], corners[1], corners[0]])
    }
  }
  return quads
}

/** Places of the panel edges of a stretch, graded to both ends, or to the far one alone from a mirror plane on. */
function places([from, to]: readonly [number, number], mirrored: boolean, widestM: number, fewest: number): number[] {
  if (mirrored && from === 0) return gradedHalf(to, widestM, fewest)
  const middle = (from + to) / 2
  const half = gradedHalf((to - from) / 2, widestM, fewest)
  return [
    ...half
      .slice(1)
      .toReversed()
      .map((place) => middle - place),
    ...half.map((place) => middle + place),
  ]
}
