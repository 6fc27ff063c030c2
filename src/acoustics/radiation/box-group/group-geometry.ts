import { requireInRange } from '../../numeric-range.ts'
import type { Point } from '../../point.ts'
import type { MirrorPlanes } from '../boundary-elements/mirror-planes.ts'
import { type Cabinet, checkCabinet } from '../cabinet.ts'
import { type AxisBox, lengthSlackM, type Vector } from './box-union.ts'

// Where boxes of a group stand, and what of that is allowed.

/** A cabinet where it stands. */
export type GroupBox = {
  cabinet: Cabinet
  /** Middle of the face with the drivers, m; of a box that stands on the floor half its height above it. */
  position: Point
  /** Whether it faces −z instead of +z. */
  turned?: boolean
}

/** Where a group stands: on a hard floor, which is y = 0, or with air all round. */
export type GroupPlace = 'hard-floor' | 'free-air'

/** Boxes nearer to each other than this, without touching, are refused, m. */
export const leastGapM = 0.01

/** Points closer to a box than this are moved out to it, off the jump at the surface, m. */
const surfaceM = 1e-4

/** @throws RangeError for what solveCabinetGroup does not allow */
export function checkGroup(boxes: readonly GroupBox[], place: GroupPlace, wallZM: number | null): void {
  if (place !== 'hard-floor' && place !== 'free-air') {
    throw new RangeError(`place is ${String(place)}; allowed is 'hard-floor' or 'free-air'`)
  }
  requireInRange('boxes.length', boxes.length, { min: 1, max: 6, integer: true })
  for (const [index, { cabinet, position }] of boxes.entries()) {
    const name = `boxes[${index}]`
    checkCabinet(cabinet, `${name}.cabinet`)
    for (const axis of ['xM', 'yM', 'zM'] as const) {
      requireInRange(`${name}.position.${axis}`, position[axis], { min: -1000, max: 1000, unit: 'm' })
    }
    if (place === 'hard-floor') {
      const raisedM = position.yM - cabinet.heightM / 2
      if (raisedM < -lengthSlackM || (raisedM > lengthSlackM && raisedM < leastGapM / 2)) {
        throw new RangeError(
          `${name}.position.yM is ${position.yM} m; allowed is half the box’s height, or at least ${leastGapM / 2} m more`,
        )
      }
    }
  }
  if (wallZM === null) return
  requireInRange('wallZM', wallZM, { min: -1000, max: 1000, unit: 'm' })
  for (const [index, box] of boxes.entries()) {
    const gapM = bodyOf(box).from[2] - wallZM
    if (gapM < -lengthSlackM || (gapM > lengthSlackM && gapM < leastGapM / 2)) {
      throw new RangeError(
        `boxes[${index}] stands ${gapM} m before the wall; allowed is touching it, or at least ${leastGapM / 2} m`,
      )
    }
  }
}

/** A box as it stands. */
export function bodyOf({ cabinet: { widthM, heightM, depthM }, position: { xM, yM, zM }, turned }: GroupBox): AxisBox {
  return {
    from: [xM - widthM / 2, yM - heightM / 2, turned ? zM : zM - depthM],
    to: [xM + widthM / 2, yM + heightM / 2, turned ? zM + depthM : zM],
  }
}

const axes = [0, 1, 2] as const
/** a − b. */
export const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]

/** The least distance of two boxes along each axis; negative where they overlap, m. */
const gapsOf = (a: AxisBox, b: AxisBox): number[] =>
  axes.map((axis) => Math.max(a.from[axis] - b.to[axis], b.from[axis] - a.to[axis]))

/** Distance of two boxes from surface to surface, m; 0 where they touch. */
function gapBetween(a: AxisBox, b: AxisBox): number {
  const gapM = Math.hypot(...gapsOf(a, b).map((gap) => Math.max(0, gap)))
  return gapM < lengthSlackM ? 0 : gapM
}

/** @throws RangeError for boxes in each other or all but touching */
export function requireApart(bodies: readonly AxisBox[]): void {
  for (const [i, a] of bodies.entries()) {
    for (const [after, b] of bodies.slice(i + 1).entries()) {
      const names = `boxes[${i}] and boxes[${i + 1 + after}]`
      if (gapsOf(a, b).every((gap) => gap < -lengthSlackM)) {
        throw new RangeError(`${names} stand in each other; allowed are boxes apart or touching`)
      }
      const gapM = gapBetween(a, b)
      if (gapM > 0 && gapM < leastGapM - lengthSlackM) {
        throw new RangeError(`${names} are ${gapM} m apart; allowed is touching, or at least ${leastGapM} m`)
      }
    }
  }
}

/**
 * The smallest gap between boxes that do not touch, m; infinite where all touch or there is one. Below leastGapM
 * solveCabinetGroup refuses them.
 */
export function narrowestGapM(boxes: readonly GroupBox[]): number {
  const bodies = boxes.map(bodyOf)
  const gaps = bodies.flatMap((a, i) => bodies.slice(i + 1).map((b) => gapBetween(a, b))).filter((gapM) => gapM > 0)
  return Math.min(Number.POSITIVE_INFINITY, ...gaps)
}

/** The middle of all boxes; with a floor or a wall, on it. */
export function middleOf(bodies: readonly AxisBox[], onFloor: boolean, wallZM: number | null): Vector {
  return axes.map((axis) => {
    if (axis === 1 && onFloor) return 0
    if (axis === 2 && wallZM !== null) return wallZM
    const low = Math.min(...bodies.map(({ from }) => from[axis]))
    const high = Math.max(...bodies.map(({ to }) => to[axis]))
    return (low + high) / 2
  }) as [number, number, number]
}

/** The planes through the middle in which the boxes (not what they play) are their own mirror image, and those that are hard. */
export function mirrorPlanesOf(bodies: readonly AxisBox[], hard: Pick<MirrorPlanes, 'y' | 'z'>): MirrorPlanes {
  const near = (a: number, b: number) => Math.abs(a - b) < lengthSlackM
  const isMirror = (mirror: (typeof axes)[number]) =>
    bodies.every((a) =>
      bodies.some((b) =>
        axes.every((axis) =>
          axis === mirror
            ? near(a.from[axis], -b.to[axis]) && near(a.to[axis], -b.from[axis])
            : near(a.from[axis], b.from[axis]) && near(a.to[axis], b.to[axis]),
        ),
      ),
    )
  return { x: isMirror(0), y: hard.y || isMirror(1), z: hard.z || isMirror(2) }
}

/** A point, moved off the surface if it lies on it. Throws RangeError for one in a box. */
export function offSurface(bodies: readonly AxisBox[], moved: Point, asGiven: Point): Point {
  let place: [number, number, number] = [moved.xM, moved.yM, moved.zM]
  for (const { from, to } of bodies) {
    const overs = axes.map((axis) => Math.max(from[axis] - place[axis], place[axis] - to[axis]))
    const over = Math.max(...overs)
    if (over < -lengthSlackM) {
      const { xM, yM, zM } = asGiven
      throw new RangeError(`point is (${xM}, ${yM}, ${zM}) m, inside a box; allowed is any point outside the boxes`)
    }
    if (over >= surfaceM) continue
    const axis = overs.indexOf(over) as (typeof axes)[number]
    const outward = place[axis] > (from[axis] + to[axis]) / 2 ? to[axis] + surfaceM : from[axis] - surfaceM
    place = place.with(axis, outward) as [number, number, number]
  }
  const [xM, yM, zM] = place
  return { xM, yM, zM }
}
