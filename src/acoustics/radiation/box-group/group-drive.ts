import type { Complex } from '../../complex.ts'
import { gaussRule } from '../../special/gauss-rule.ts'
import { type Apertures, driverApertures, driverShares } from '../boundary-elements/driver-apertures.ts'
import type { MirrorPlanes } from '../boundary-elements/mirror-planes.ts'
import { sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import { testPlace } from '../box-surface/box-equations.ts'
import { projectOnFace } from '../box-surface/face-projection.ts'
import type { Driver } from '../cabinet.ts'
import { lengthSlackM, type Vector } from './box-union.ts'
import type { GroupEquations } from './group-equations.ts'

/** The drivers of a box where they are. */
export type DriverFace = {
  drivers: readonly Driver[]
  /** Middle of their face, in the coordinates of the group, m. */
  middle: Vector
  /** Whether it faces −z instead of +z. */
  turned: boolean
}

/** What drivers and their images in the hard planes send, in the coordinates of the group. */
export type GroupDrive = {
  apertures: Apertures
  /** The face, and its image in each hard plane and both. */
  shown: readonly Shown[]
  /** Adds the potential at a place. */
  addPotential(x: number, y: number, z: number, out: Float64Array): void
}

/** A face as it is or as a mirror shows it: the place of its middle, and which way its own x and y run. */
type Shown = { middle: Vector; signX: 1 | -1; signY: 1 | -1 }

/**
 * @param hard  planes (y = 0, z = 0) that are hard: floor and wall
 */
export function groupDrive(
  { drivers, middle: [x, y, z], turned }: DriverFace,
  hard: Pick<MirrorPlanes, 'y' | 'z'>,
  frequencyHz: number,
  wavenumber: number,
): GroupDrive {
  const apertures = driverApertures(drivers, frequencyHz, wavenumber)
  // Half a turn about the vertical.
  const signX = turned ? -1 : 1
  const heights = hard.y ? ([1, -1] as const) : ([1] as const)
  const depths = hard.z ? ([1, -1] as const) : ([1] as const)
  const shown = heights.flatMap((signY) =>
    depths.map((signZ): Shown => ({ middle: [x, signY * y, signZ * z], signX, signY })),
  )
  return {
    apertures,
    shown,
    addPotential(px, py, pz, out) {
      for (const { middle, signX: mx, signY: my } of shown) {
        apertures.addPotential(mx * (px - middle[0]), my * (py - middle[1]), pz - middle[2], out)
      }
    },
  }
}

/** Whether what a face's drivers send is its own mirror image in the plane x = 0. */
export const isAlikeInX = ({ drivers, middle, turned }: DriverFace): boolean =>
  drivers.every(({ xM }) => Math.abs(middle[0] + (turned ? -xM : xM)) < lengthSlackM)

/** By parity, row after row: what a drive puts into the equations, Pa. */
export type GroupSide = { re: Float64Array; im: Float64Array }

type Signs = readonly [number, number, number]

/**
 * jωρ times a drive's potential at every test place, sorted into parities; in the plane of a face's drivers as projectOnFace has it.
 *
 * Of pistons the potential is split: ∫ v/(4πR) dS, in which all that is not smooth is, does not hang on the frequency and is kept
 * with the equations; ∫ v (e^{−jkR} − 1)/(4πR) dS is smooth and summed over a few points of each. A horn's velocity is
 * another at each frequency.
 *
 * @param omegaRho  ωρ, kg/(m³ s)
 */
export function groupSide(
  equations: GroupEquations,
  face: DriverFace,
  drive: GroupDrive,
  hard: Pick<MirrorPlanes, 'y' | 'z'>,
  frequencyHz: number,
  wavenumber: number,
  omegaRho: number,
): GroupSide {
  const { images, rows } = equations
  const { drivers } = face
  const pistons = drivers.every(({ kind }) => kind === 'piston')
  const shares = driverShares(drivers, frequencyHz)
  const rest = pistons ? restNodes(drivers, shares, wavenumber) : []
  const side = ofImages(equations, isAlikeInX(face), hard, (signs, image, part) => {
    if (!pistons) return setPotential(equations, drive, drivers, signs, wavenumber, part)
    addRest(equations, drive.shown, rest, signs, wavenumber, part)
    for (const [index, { re, im }] of shares.entries()) {
      const still = stillPart(equations, drive, drivers[index] as Driver, signs, image)
      for (let row = 0; row < rows; row++) {
        part.re[row] = (part.re[row] as number) + re * (still[row] as number)
        part.im[row] = (part.im[row] as number) + im * (still[row] as number)
      }
    }
  })
  sortPanelParities(side.re, images.length)
  sortPanelParities(side.im, images.length)
  // jωρ (a + jb), an equal share of each image
  const scale = omegaRho / images.length
  for (let at = 0; at < side.re.length; at++) {
    const re = side.re[at] as number
    side.re[at] = -scale * (side.im[at] as number)
    side.im[at] = scale * re
  }
  return side
}

/** Numbers of every row for each image; those of images that are alike are made once. */
function ofImages(
  { images, rows }: GroupEquations,
  alikeInX: boolean,
  hard: Pick<MirrorPlanes, 'y' | 'z'>,
  set: (signs: Signs, image: number, part: GroupSide) => void,
): GroupSide {
  const side = { re: new Float64Array(images.length * rows), im: new Float64Array(images.length * rows) }
  for (const [image, signs] of images.entries()) {
    const twin = images.findIndex(
      ([x, y, z]) => (alikeInX || x === signs[0]) && (hard.y || y === signs[1]) && (hard.z || z === signs[2]),
    )
    const from = image * rows
    if (twin < image) {
      side.re.copyWithin(from, twin * rows, (twin + 1) * rows)
      side.im.copyWithin(from, twin * rows, (twin + 1) * rows)
    } else {
      set(signs, image, { re: side.re.subarray(from, from + rows), im: side.im.subarray(from, from + rows) })
    }
  }
  return side
}

/** Potentials at k = 0 of single drivers with 1 m³/s at one image of all test places, kept with the equations. */
const stillParts = new WeakMap<GroupEquations, Map<string, Float64Array>>()

function stillPart(
  equations: GroupEquations,
  { shown }: GroupDrive,
  driver: Driver,
  signs: Signs,
  image: number,
): Float64Array {
  const known = stillParts.get(equations) ?? new Map<string, Float64Array>()
  stillParts.set(equations, known)
  const alone = { ...driver, gain: 1, delayS: 0 }
  const key = JSON.stringify([shown, alone, image])
  const part = known.get(key)
  if (part) return part
  const made = { re: new Float64Array(equations.rows), im: new Float64Array(equations.rows) }
  setPotential(equations, { shown, apertures: driverApertures([alone], 1, 0) }, [alone], signs, 0, made)
  known.set(key, made.re)
  return made.re
}

/** A point of a piston with its share of the flow, m³/s. */
type RestNode = { xM: number; yM: number } & Complex

/** Rings, and points on each, for the longest wave; one more ring and two more points for each radian over the radius. */
const leastOfRest = { rings: 3, points: 8 }

/** Points of pistons, even in area, for what is smooth. */
function restNodes(drivers: readonly Driver[], shares: readonly Complex[], wavenumber: number): RestNode[] {
  return drivers.flatMap((driver, index) => {
    if (driver.kind !== 'piston') return []
    const { re, im } = shares[index] as Complex
    const radians = Math.floor(wavenumber * driver.radiusM)
    const points = leastOfRest.points + 2 * radians
    const { nodes, weights } = gaussRule(leastOfRest.rings + radians)
    return Array.from(nodes).flatMap((node, ring) => {
      const radiusM = driver.radiusM * Math.sqrt((1 + node) / 2)
      const share = (weights[ring] as number) / 2 / points
      return Array.from({ length: points }, (_, i): RestNode => {
        const angleRad = (2 * Math.PI * (i + 0.5)) / points
        return {
          xM: driver.xM + radiusM * Math.cos(angleRad),
          yM: driver.yM + radiusM * Math.sin(angleRad),
          re: share * re,
          im: share * im,
        }
      })
    })
  })
}

/** Adds  ∫ v (e^{−jkR} − 1)/(4πR) dS  at one image of all test places. */
function addRest(
  equations: GroupEquations,
  shown: readonly Shown[],
  nodes: readonly RestNode[],
  [sx, sy, sz]: Signs,
  k: number,
  { re, im }: GroupSide,
): void {
  for (const { middle, signX, signY } of shown) {
    for (let row = 0; row < equations.rows; row++) {
      const place = testPlace(equations, row)
      const x = signX * (sx * place[0] - middle[0])
      const y = signY * (sy * place[1] - middle[1])
      const z = sz * place[2] - middle[2]
      let sumRe = 0
      let sumIm = 0
      for (const node of nodes) {
        const dx = node.xM - x
        const dy = node.yM - y
        const distance = Math.sqrt(dx * dx + dy * dy + z * z)
        const half = Math.sin((k * distance) / 2)
        // cos kR − 1 = −2 sin² kR/2 and sin kR = 2 sin kR/2 cos kR/2, over R; −k at R = 0
        const c = distance === 0 ? 0 : (-2 * half * half) / distance
        const s = distance === 0 ? -k : (-2 * half * Math.cos((k * distance) / 2)) / distance
        sumRe += node.re * c - node.im * s
        sumIm += node.re * s + node.im * c
      }
      re[row] = (re[row] as number) + sumRe / (4 * Math.PI)
      im[row] = (im[row] as number) + sumIm / (4 * Math.PI)
    }
  }
}

/** Sets the potential at one image of all test places. */
function setPotential(
  equations: GroupEquations,
  { apertures, shown }: Pick<GroupDrive, 'apertures' | 'shown'>,
  drivers: readonly Driver[],
  [sx, sy, sz]: Signs,
  wavenumber: number,
  { re, im }: GroupSide,
): void {
  const { points, rows } = equations
  const out = new Float64Array(2)
  for (const { middle, signX, signY } of shown) {
    const addAt = (from: number, to: number) => {
      for (let row = from; row < to; row++) {
        const [x, y, z] = testPlace(equations, row)
        out.fill(0)
        apertures.addPotential(signX * (sx * x - middle[0]), signY * (sy * y - middle[1]), sz * z - middle[2], out)
        re[row] = (re[row] as number) + (out[0] as number)
        im[row] = (im[row] as number) + (out[1] as number)
      }
    }
    for (const face of points.faces) {
      const end = face.first + face.u.placesM.length * face.v.placesM.length
      if (face.axis !== 2 || Math.abs(sz * face.atM - middle[2]) > lengthSlackM) {
        addAt(face.first, end)
        continue
      }
      for (const [index, driver] of drivers.entries()) {
        const add = (apertures.parts[index] as Apertures['parts'][number]).addPotential
        // The driver's place on the face, and a place of the face on the driver's.
        const at = [sx * (middle[0] + signX * driver.xM), sy * (middle[1] + signY * driver.yM)] as const
        const potential = (x: number, y: number, sum: Float64Array) =>
          add(signX * (sx * x - middle[0]), signY * (sy * y - middle[1]), 0, sum)
        projectOnFace(face, driver, potential, at, wavenumber, re, im)
      }
    }
    addAt(points.count, rows)
  }
}
