import type { Complex } from '../../complex.ts'
import { type Air, requireAir } from '../../medium/air.ts'
import { requireInRange } from '../../numeric-range.ts'
import type { Point } from '../../point.ts'
import { type Cabinet, checkCabinet } from '../cabinet.ts'
import { frequencyRange } from '../radiation-input.ts'
import { radicalInverse } from './box-mesh.ts'
import { type Apertures, driverApertures } from './driver-apertures.ts'
import {
  type ExteriorBody,
  exteriorSolutions,
  type SurfacePotential,
  type SurfacePressure,
  surfaceIntegral,
} from './exterior-solution.ts'
import { type AxisBox, groupPanels, groupQuads, lengthSlackM, positivePart, type Vector } from './group-mesh.ts'
import type { MirrorPlanes } from './mirror-planes.ts'
import { panelMesh } from './panel-mesh.ts'

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

export type GroupOptions = {
  /** Panels are at most a wavelength over this wide; 3 … 40, default 8. */
  elementsPerWavelength?: number
  /** However long the wave: panels at most the longest edge of a box over twice this; 2 … 16, default 3. */
  fewestPanels?: number
}

/** The sound of several boxes that stand in each other's way. Boxes are counted from 0. */
export type CabinetGroup = {
  frequencyHz: number
  /** Pressure with one box's drivers moving with 1 m³/s, peak, and all others still, Pa; with a floor, its reflection too. */
  pressureAt(driven: number, point: Point): Complex
  /**
   * Pressure over the drivers of one box, weighted with their velocity, for the drivers of another (or itself) moving:
   * Z = ∫ p_driven v_of dS, Pa·s/m³ for unit flows. By reciprocity the same with both exchanged. For drivers in phase the
   * radiated power is half of the real part of a box's own, plus that of the others under way.
   */
  mutualImpedance(driven: number, of: number): Complex
  /** Panels on the whole surface, images with a floor included. */
  unknowns: number
}

/** Boxes nearer to each other than this, without touching, are refused, m. */
export const leastGapM = 0.01

/** Panels on the meshed part that are allowed: some seconds' work, 100 MB. */
const mostPanels = 1600

/** However short an edge is: so many even panels along half of it. */
const fewestOfHalf = 2

/** Points closer to a box than this are moved out to it, off the jump at the surface, m. */
const surfaceM = 1e-4

/**
 * Sound of one to six rigid boxes that stand in each other's way, in free air or on a hard floor, at one frequency: one
 * exterior problem (see exteriorSolution), solved for the drivers of each box alone. What the group does together is the
 * sum of these under each box's drive.
 *
 * Boxes that touch are one body: there is no surface between them. A hard floor is a plane of symmetry, so that the body is the
 * boxes and their images below. Planes in which the group is its own mirror image spare panels.
 *
 * Left out: how the sound of the others pushes back on a driver, which is a given flow; walls other than the floor.
 *
 * @param boxes        1 … 6, see checkCabinet; no box in another, and none nearer to another than leastGapM without touching
 * @param place        see GroupPlace
 * @param frequencyHz  above 0, as far as 1600 panels on the meshed part allow
 * @param air          the medium
 * @param options      see GroupOptions
 * @throws RangeError  for arguments outside these ranges; pressureAt for a point in a box or under the floor
 * Accuracy: two boxes 0.56 × 0.62 × 0.66 m one behind the other on a floor, default mesh, against one of 8 panels; greatest
 *         error of the pressure at six places 1 to 5 m away over that of a point source:
 *         10 cm apart or more 0.002 at 63 Hz, 0.006 at 100 Hz, 0.03 at 160 Hz; 5 cm 0.003, 0.009, 0.04; 1 cm 0.006, 0.02, 0.06
 *         (the gap begins to resonate); side by side, however close, 0.003, 0.006, 0.01. With 4 panels it is half of that.
 * Source: see exteriorSolution; the floor by the image principle, Kuttruff, Room Acoustics, section 4.1.
 */
export function solveCabinetGroup(
  boxes: readonly GroupBox[],
  place: GroupPlace,
  frequencyHz: number,
  air: Air,
  options: GroupOptions = {},
): CabinetGroup {
  const onFloor = checkGroup(boxes, place)
  requireInRange('frequencyHz', frequencyHz, { ...frequencyRange, above: 0 })
  requireAir(air)
  const perWave = requireInRange('elementsPerWavelength', options.elementsPerWavelength ?? 8, { min: 3, max: 40 })
  const fewest = requireInRange('fewestPanels', options.fewestPanels ?? 3, { min: 2, max: 16, integer: true })

  const outer = boxes.map(bodyOf)
  requireApart(outer)
  const middle = middleOf(outer, onFloor)
  const bodies = outer.map(({ from, to }): AxisBox => ({ from: minus(from, middle), to: minus(to, middle) }))
  const planes = mirrorPlanesOf(bodies, onFloor)
  const omega = 2 * Math.PI * frequencyHz
  const wavenumber = omega / air.speedOfSoundMps
  const longestM = Math.max(...boxes.flatMap(({ cabinet: { widthM, heightM, depthM } }) => [widthM, heightM, depthM]))
  const widestM = Math.min(air.speedOfSoundMps / frequencyHz / perWave, longestM / (2 * fewest))
  const panels = groupPanels(bodies, planes, widestM, fewestOfHalf)
  if (panels > mostPanels) {
    throw new RangeError(
      `frequencyHz is ${frequencyHz}, which takes ${panels} panels for these boxes; allowed are frequencies that take up to ${mostPanels}`,
    )
  }
  const body: ExteriorBody = {
    mesh: panelMesh(groupQuads(bodies, planes, widestM, fewestOfHalf)),
    planes,
    wavenumber,
    interiorPoints: bodies.flatMap((box) => interiorPoints(positivePart(box, planes), wavenumber)),
  }
  const drives = boxes.map((box) => driveOf(box, middle, onFloor, frequencyHz, wavenumber, omega * air.densityKgM3))
  const surfaces = exteriorSolutions(
    body,
    drives.map(({ potential }) => potential),
  )
  const pressureInside = (driven: number, point: Point): Complex => {
    const velocityPotential = (drives[driven] as Drive).potential
    return surfaceIntegral(surfaces[driven] as SurfacePressure, { ...body, velocityPotential }, point)
  }
  const checkIndex = (name: string, index: number) =>
    requireInRange(name, index, { min: 0, max: boxes.length - 1, integer: true })
  const moved = ({ xM, yM, zM }: Point): Point => ({ xM: xM - middle[0], yM: yM - middle[1], zM: zM - middle[2] })
  return {
    frequencyHz,
    pressureAt(driven, point) {
      checkIndex('driven', driven)
      for (const axis of ['xM', 'yM', 'zM'] as const) requireInRange(`point.${axis}`, point[axis], { unit: 'm' })
      if (onFloor) requireInRange('point.yM', point.yM, { min: 0, unit: 'm' })
      return pressureInside(driven, offSurface(bodies, moved(point), point))
    },
    mutualImpedance(driven, of) {
      checkIndex('driven', driven)
      checkIndex('of', of)
      const { nodes, toGroup } = drives[of] as Drive
      const sum = { re: 0, im: 0 }
      for (let i = 0; i < nodes.x.length; i++) {
        const p = pressureInside(driven, toGroup(nodes.x[i] as number, nodes.y[i] as number))
        const [re, im] = [nodes.re[i] as number, nodes.im[i] as number]
        // On the surface the integral gives half.
        sum.re += 2 * (p.re * re - p.im * im)
        sum.im += 2 * (p.re * im + p.im * re)
      }
      return sum
    },
    unknowns: body.mesh.count * (surfaces[0] as SurfacePressure).images.length,
  }
}

/** @throws RangeError; returns whether there is a floor */
function checkGroup(boxes: readonly GroupBox[], place: GroupPlace): boolean {
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
  return place === 'hard-floor'
}

function bodyOf({ cabinet: { widthM, heightM, depthM }, position: { xM, yM, zM }, turned }: GroupBox): AxisBox {
  return {
    from: [xM - widthM / 2, yM - heightM / 2, turned ? zM : zM - depthM],
    to: [xM + widthM / 2, yM + heightM / 2, turned ? zM + depthM : zM],
  }
}

const axes = [0, 1, 2] as const
const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]

/** The least distance of two boxes along each axis; negative where they overlap, m. */
const gapsOf = (a: AxisBox, b: AxisBox): number[] =>
  axes.map((axis) => Math.max(a.from[axis] - b.to[axis], b.from[axis] - a.to[axis]))

/** Distance of two boxes from surface to surface, m; 0 where they touch. */
function gapBetween(a: AxisBox, b: AxisBox): number {
  const gapM = Math.hypot(...gapsOf(a, b).map((gap) => Math.max(0, gap)))
  return gapM < lengthSlackM ? 0 : gapM
}

function requireApart(bodies: readonly AxisBox[]): void {
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

/** The middle of all boxes; on a floor, of their floor. */
function middleOf(bodies: readonly AxisBox[], onFloor: boolean): Vector {
  return axes.map((axis) => {
    if (axis === 1 && onFloor) return 0
    const low = Math.min(...bodies.map(({ from }) => from[axis]))
    const high = Math.max(...bodies.map(({ to }) => to[axis]))
    return (low + high) / 2
  }) as [number, number, number]
}

/** The planes through the middle in which the boxes (not what they play) are their own mirror image. */
function mirrorPlanesOf(bodies: readonly AxisBox[], onFloor: boolean): MirrorPlanes {
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
  return { x: isMirror(0), y: onFloor || isMirror(1), z: isMirror(2) }
}

/**
 * Points spread through the inner part of a box: three for each resonance of its inside below the frequency, by Weyl's
 * count V k³/6π², and six more. Halton's sequence, as in interiorEighth.
 */
function interiorPoints(box: AxisBox | null, wavenumber: number): Point[] {
  if (!box) return []
  const [x, y, z] = minus(box.to, box.from)
  const count = 6 + Math.ceil((3 * x * y * z * wavenumber ** 3) / (6 * Math.PI ** 2))
  const at = (axis: (typeof axes)[number], share: number) =>
    box.from[axis] + (0.1 + 0.8 * share) * (box.to[axis] - box.from[axis])
  return Array.from({ length: count }, (_, i) => ({
    xM: at(0, radicalInverse(i + 1, 2)),
    yM: at(1, radicalInverse(i + 1, 3)),
    zM: at(2, radicalInverse(i + 1, 5)),
  }))
}

type Drive = {
  potential: SurfacePotential
  nodes: Apertures['nodes']
  /** A place on the face, in the cabinet's own coordinates, in those of the group. */
  toGroup(x: number, y: number): Point
}

/** What one box's drivers do, in the coordinates of the group; with a floor, their image's too. */
function driveOf(
  { cabinet, position, turned }: GroupBox,
  middle: Vector,
  onFloor: boolean,
  frequencyHz: number,
  wavenumber: number,
  omegaRho: number,
): Drive {
  const { nodes, parts, addPotential } = driverApertures(cabinet.drivers, frequencyHz, wavenumber)
  const [x0, y0, z0] = minus([position.xM, position.yM, position.zM], middle)
  // Half a turn about the vertical.
  const way = turned ? -1 : 1
  const sum = new Float64Array(2)
  const potential: SurfacePotential = (x, y, z, out) => {
    sum.fill(0)
    addPotential(way * (x - x0), y - y0, way * (z - z0), sum)
    if (onFloor) addPotential(way * (x - x0), -y - y0, way * (z - z0), sum)
    out[0] = (out[0] as number) - omegaRho * (sum[1] as number)
    out[1] = (out[1] as number) + omegaRho * (sum[0] as number)
  }
  potential.alike = {
    x: parts.every(({ xM }) => Math.abs(x0 + way * xM) < lengthSlackM),
    y: onFloor || parts.every(({ yM }) => Math.abs(y0 + yM) < lengthSlackM),
  }
  potential.movingPlaneZM = z0
  return { potential, nodes, toGroup: (x, y) => ({ xM: x0 + way * x, yM: y0 + y, zM: z0 }) }
}

/** A point, moved off the surface if it lies on it. Throws RangeError for one in a box. */
function offSurface(bodies: readonly AxisBox[], moved: Point, asGiven: Point): Point {
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
