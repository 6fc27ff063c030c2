import type { Complex } from '../../complex.ts'
import { type Air, requireAir } from '../../medium/air.ts'
import { requireInRange } from '../../numeric-range.ts'
import type { Point } from '../../point.ts'
import { type MirrorPlanes, sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import { boxDoubleLayer } from '../box-surface/box-double-layer.ts'
import { frequencyRange } from '../radiation-input.ts'
import type { AxisBox } from './box-union.ts'
import { solveByResiduals } from './complex-gmres.ts'
import { type DriverFace, type GroupDrive, type GroupSide, groupDrive, groupSide, isAlikeInX } from './group-drive.ts'
import { type GroupEquations, groupEquations, usualPointsOfSide } from './group-equations.ts'
import {
  bodyOf,
  checkGroup,
  type GroupBox,
  type GroupPlace,
  middleOf,
  minus,
  mirrorPlanesOf,
  offSurface,
  requireApart,
} from './group-geometry.ts'
import { groupSystems } from './group-system.ts'

export type GroupOptions = {
  /** See usualPointsOfSide; 3 … 16, default 5. */
  pointsOfSide?: number
  /** z of a hard wall behind the boxes, m. Without one there is none. */
  wallZM?: number
  /** Whether all boxes play in step and only their sum is wanted, as `driven` 0: one solution instead of one a box. */
  inStep?: boolean
}

/** The sound of several boxes that stand in each other's way. Boxes are counted from 0. */
export type CabinetGroup = {
  frequencyHz: number
  /** Pressure with one box's drivers moving with 1 m³/s, peak, and all others still, Pa; with a floor, its reflection too. */
  pressureAt(driven: number, point: Point): Complex
  /** The same for every box, each alone. */
  pressuresAt(point: Point): Complex[]
  /**
   * Pressure over the drivers of one box, weighted with their velocity, for the drivers of another (or itself) moving:
   * Z = ∫ p_driven v_of dS, Pa·s/m³ for unit flows. By reciprocity the same with both exchanged. For drivers in phase the
   * radiated power is half of the real part of a box's own, plus that of the others under way.
   */
  mutualImpedance(driven: number, of: number): Complex
  /** Points on the whole surface, images with a floor or wall included. */
  unknowns: number
  /** Steps that the slowest of the boxes' solutions took. */
  steps: number
}

/** Points on the meshed part that are allowed: seconds' work, 150 MB. */
const mostPoints = 1500

/** Residual at which the steps towards a solution end: far below the error of the mesh. */
const stepTolerance = 1e-5

/**
 * Sound of one to six rigid boxes that stand in each other's way, in free air or on a hard floor, before a hard wall or not, at one
 * frequency, solved for the drivers of each box alone. What the group does together is the sum of these under each box's drive.
 *
 * The direct boundary integral, tested at the points of the surface and inside (see boxSolution), with one polynomial of high order
 * on each rectangle of the surface in parameters that are stretched towards its ends (sideRule). The kernel between rectangles that
 * are near each other is integrated for the place; that does not hang on the frequency and is kept, as is what of the drivers'
 * potential does not. The equations are solved by steps (see groupSystems, solveByResiduals).
 *
 * Boxes that touch are one body: there is no surface between them, and faces that go on in one plane are one. Floor and wall are
 * planes of symmetry, so that the body is the boxes and their images, and needs no points of its own for these. Planes in which
 * the group is its own mirror image spare points.
 *
 * Left out: how the sound of the others pushes back on a driver, which is a given flow; walls to the side, a ceiling.
 *
 * @param boxes        1 … 6, see checkCabinet; no box in another, and none nearer to another or a wall than leastGapM without touching
 * @param place        see GroupPlace
 * @param frequencyHz  above 0, as far as 1500 points on the meshed part allow
 * @param air          the medium
 * @param options      see GroupOptions
 * @throws RangeError  for arguments outside these ranges; pressureAt for a point in a box, under the floor or behind the wall
 * Accuracy: boxes 0.56 × 0.62 × 0.66 m on a floor, default mesh against one of twice as many points along each side; greatest
 *         error of the pressure at six places 1 to 5 m away over that of a point source, at 100 and 190 Hz: two behind
 *         each other 10 cm apart or more 0.001 and 0.003, 1 cm 0.001 and 0.007; side by side, touching or not, 0.002 and 0.004;
 *         a flush trio 0.003 and 0.004; a flush row of six 0.002 and 0.006. That is 0.06 dB at most. Against outside programs: evidence.
 * Source: H. A. Schenck, J. Acoust. Soc. Am. 44 (1968) 41–58 (interior points); Morse & Ingard, Theoretical Acoustics, section 7.1
 *         (the integral); floor and wall by the image principle, Kuttruff, Room Acoustics, section 4.1.
 */
export function solveCabinetGroup(
  boxes: readonly GroupBox[],
  place: GroupPlace,
  frequencyHz: number,
  air: Air,
  options: GroupOptions = {},
): CabinetGroup {
  const wallZM = options.wallZM ?? null
  checkGroup(boxes, place, wallZM)
  requireInRange('frequencyHz', frequencyHz, { ...frequencyRange, above: 0 })
  requireAir(air)
  const pointsOfSide = requireInRange('pointsOfSide', options.pointsOfSide ?? usualPointsOfSide, { min: 3, max: 16 })
  const outer = boxes.map(bodyOf)
  requireApart(outer)
  const hard = { y: place === 'hard-floor', z: wallZM !== null }
  const middle = middleOf(outer, hard.y, wallZM)
  const bodies = outer.map(({ from, to }): AxisBox => ({ from: minus(from, middle), to: minus(to, middle) }))
  const faces = boxes.map(
    ({ cabinet, position: { xM, yM, zM }, turned = false }): DriverFace => ({
      drivers: cabinet.drivers,
      middle: minus([xM, yM, zM], middle),
      turned,
    }),
  )
  const omega = 2 * Math.PI * frequencyHz
  const wavenumber = omega / air.speedOfSoundMps
  const equations = equationsFor(bodies, faces, hard, wavenumber, pointsOfSide)
  const drives = faces.map((face) => groupDrive(face, hard, frequencyHz, wavenumber))
  const omegaRho = omega * air.densityKgM3
  const sides = drives.map((drive, index) =>
    groupSide(equations, faces[index] as DriverFace, drive, hard, frequencyHz, wavenumber, omegaRho),
  )
  const { inStep = false } = options
  const { surfaces, steps } = surfacesOf(equations, inStep ? [sumOf(sides)] : sides, wavenumber)
  const sent: readonly Sent[] = inStep ? [sumOfDrives(drives)] : drives
  const pressuresInside = (point: Point) => surfaceIntegrals(equations, sent, surfaces, wavenumber, omegaRho, point)
  const checkIndex = (name: string, index: number) =>
    requireInRange(name, index, { min: 0, max: (name === 'of' ? drives : sent).length - 1, integer: true })
  const pressuresAt = (point: Point): Complex[] => {
    for (const axis of ['xM', 'yM', 'zM'] as const) requireInRange(`point.${axis}`, point[axis], { unit: 'm' })
    if (hard.y) requireInRange('point.yM', point.yM, { min: 0, unit: 'm' })
    if (wallZM !== null) requireInRange('point.zM', point.zM, { min: wallZM, unit: 'm' })
    const [xM, yM, zM] = minus([point.xM, point.yM, point.zM], middle)
    return pressuresInside(offSurface(bodies, { xM, yM, zM }, point))
  }
  return {
    frequencyHz,
    pressuresAt,
    pressureAt(driven, point) {
      checkIndex('driven', driven)
      return pressuresAt(point)[driven] as Complex
    },
    mutualImpedance(driven, of) {
      checkIndex('driven', driven)
      checkIndex('of', of)
      const { nodes } = (drives[of] as GroupDrive).apertures
      const { middle: at, turned } = faces[of] as DriverFace
      const way = turned ? -1 : 1
      const sum = { re: 0, im: 0 }
      for (let i = 0; i < nodes.x.length; i++) {
        const place = { xM: at[0] + way * (nodes.x[i] as number), yM: at[1] + (nodes.y[i] as number), zM: at[2] }
        const p = pressuresInside(place)[driven] as Complex
        const re = nodes.re[i] as number
        const im = nodes.im[i] as number
        // On the surface the integral gives half.
        sum.re += 2 * (p.re * re - p.im * im)
        sum.im += 2 * (p.re * im + p.im * re)
      }
      return sum
    },
    unknowns: equations.points.count * equations.images.length,
    steps,
  }
}

/** Meshes with their quadrature, which hang on the boxes alone: newest last, so many numbers together, 50 MB. */
const kept = new Map<string, GroupEquations>()
const mostKept = 6e6

function equationsFor(
  bodies: readonly AxisBox[],
  faces: readonly DriverFace[],
  hard: Pick<MirrorPlanes, 'y' | 'z'>,
  wavenumber: number,
  pointsOfSide: number,
): GroupEquations {
  const planes = mirrorPlanesOf(bodies, hard)
  const oddIn = { x: !faces.every(isAlikeInX), y: !hard.y, z: !hard.z }
  const meshed = meshedWavenumber(bodies, wavenumber)
  const key = JSON.stringify([bodies, planes, oddIn, meshed, pointsOfSide])
  const equations = kept.get(key) ?? groupEquations(bodies, planes, oddIn, meshed, pointsOfSide, mostPoints)
  kept.delete(key)
  kept.set(key, equations)
  let numbers = 0
  for (const [other, { rows, points, wanted }] of [...kept].reverse()) {
    numbers += 2 * wanted.filter((want) => want).length * rows * points.count
    if (numbers > mostKept && other !== key) kept.delete(other)
  }
  return equations
}

/** The wavenumber that a mesh is made for: by octaves, and one mesh for all bass of which a box is a small part of a wave, rad/m. */
function meshedWavenumber(bodies: readonly AxisBox[], wavenumber: number): number {
  const shortestM = Math.min(...bodies.flatMap(({ from, to }) => minus(to, from)))
  return (
    (2 ** Math.max(0, Math.ceil(Math.log2((wavenumber * shortestM) / leastMeshed) - 1e-9)) * leastMeshed) / shortestM
  )
}

/** All sound whose wavenumber times a group's shortest edge is less shares a mesh. */
const leastMeshed = 2

type Surface = { re: Float64Array; im: Float64Array }

/** What several sides put in together. */
function sumOf(sides: readonly GroupSide[]): GroupSide {
  const sum = (part: 're' | 'im') =>
    sides
      .slice(1)
      .reduce(
        (total, next) => total.map((value, at) => value + (next[part][at] as number)),
        (sides[0] as GroupSide)[part],
      )
  return { re: sum('re'), im: sum('im') }
}

type Sent = Pick<GroupDrive, 'addPotential'>

const sumOfDrives = (drives: readonly GroupDrive[]): Sent => ({
  addPotential(x, y, z, out) {
    for (const drive of drives) drive.addPotential(x, y, z, out)
  },
})

/** Pressure on the surface for each side alone: point j's image g at g · points.count + j. */
function surfacesOf(
  equations: GroupEquations,
  sides: readonly GroupSide[],
  wavenumber: number,
): { surfaces: Surface[]; steps: number } {
  const { points, images, rows } = equations
  const systems = groupSystems(equations, wavenumber)
  let steps = 0
  const surfaces = sides.map((side) => {
    const surface = {
      re: new Float64Array(images.length * points.count),
      im: new Float64Array(images.length * points.count),
    }
    for (const [parity, system] of systems.entries()) {
      if (!system) continue
      const [from, to] = [parity * rows, (parity + 1) * rows]
      const right = system.mix(side.re.subarray(from, to), side.im.subarray(from, to))
      const part = solveByResiduals(system.map, right, stepTolerance)
      surface.re.set(part.re, parity * points.count)
      surface.im.set(part.im, parity * points.count)
      steps = Math.max(steps, part.steps)
    }
    sortPanelParities(surface.re, images.length)
    sortPanelParities(surface.im, images.length)
    return surface
  })
  return { surfaces, steps }
}

/** The surface integral for each drive at a place of the group, Pa: outside the pressure, on a face half of it, inside 0. */
function surfaceIntegrals(
  { points, images }: GroupEquations,
  drives: readonly Sent[],
  surfaces: readonly Surface[],
  wavenumber: number,
  omegaRho: number,
  { xM, yM, zM }: Point,
): Complex[] {
  const out = new Float64Array(2)
  const found = drives.map((drive): Complex => {
    out.fill(0)
    drive.addPotential(xM, yM, zM, out)
    return { re: -omegaRho * (out[1] as number), im: omegaRho * (out[0] as number) }
  })
  const rowRe = new Float64Array(points.count)
  const rowIm = new Float64Array(points.count)
  for (const [image, [sx, sy, sz]] of images.entries()) {
    boxDoubleLayer(points, wavenumber, [sx * xM, sy * yM, sz * zM], rowRe, rowIm)
    for (const [index, { re, im }] of surfaces.entries()) {
      let { re: sumRe, im: sumIm } = found[index] as Complex
      for (let j = 0, at = image * points.count; j < points.count; j++, at++) {
        const a = re[at] as number
        const b = im[at] as number
        const c = rowRe[j] as number
        const d = rowIm[j] as number
        sumRe += a * c - b * d
        sumIm += a * d + b * c
      }
      found[index] = { re: sumRe, im: sumIm }
    }
  }
  return found
}
