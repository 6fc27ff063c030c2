import { type Complex, multiply } from '../complex.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { GroundReflection } from './ground-reflection.ts'
import type { PlacedSource } from './placed-source.ts'
import { requirePoint } from './placed-source.ts'

/**
 * An endless flat wall: any point of it, its normal into the air (any length above 0), and either its absorption coefficient by
 * frequency, 0 rigid … 1 open, by which it throws a wave back with the real factor |R| = √(1 − α), whatever the angle, or what it
 * throws back of a spherical wave (groundReflection).
 */
export type Wall = { point: Point; normal: Point } & (
  | { absorption: (frequencyHz: number) => number; reflection?: undefined }
  | { absorption?: undefined; reflection: GroundReflection }
)

/** One way by which sound can go: the walls (by index) that mirror the listener, one after the other. */
export type WallImage = { walls: number[]; mirrored: (point: Point) => Point }

type Plane = { nx: number; ny: number; nz: number; offset: number }

/** Cosine between two normals below which walls count as perpendicular: 1/17 of an arc minute. */
const perpendicularCosine = 1e-5

/** How far behind a wall still counts as on it, m. */
const slackM = 1e-6

/**
 * The direct way, the image in each wall, and the images of corners.
 *
 * Two perpendicular walls have a double image, three a triple one, and so on for every set of walls that are perpendicular
 * to one another; for these the images are exact, since mirroring in one and then the other is the same in either order.
 * Two walls at any other angle have no product image here: which of their further images can be heard would depend on the
 * place. Parallel walls that face each other have only their two first images; the endless row between them is the hall's
 * (hallField).
 *
 * @param walls  0 … 12 walls
 * @returns      the direct way first, then sets of rising size
 * @throws RangeError for a wall that is not finite, a normal of no length, or two parallel walls that face the same way
 */
export function wallImages(walls: readonly Wall[]): WallImage[] {
  requireInRange('walls.length', walls.length, { min: 0, max: 12, integer: true })
  const planes = walls.map((wall, index) => planeOf(wall, `walls[${index}]`))
  for (const [i, a] of planes.entries()) {
    for (const [j, b] of planes.entries()) {
      if (j > i && cosine(a, b) > 1 - 1e-9) {
        throw new RangeError(
          `walls[${j}] faces the same way as walls[${i}], so that one hides the other; allowed are walls that face different ways`,
        )
      }
    }
  }
  const sets: number[][] = [[]]
  for (const set of sets) {
    for (let next = (set.at(-1) ?? -1) + 1; next < planes.length; next++) {
      const plane = planes[next] as Plane
      if (set.every((index) => Math.abs(cosine(planes[index] as Plane, plane)) < perpendicularCosine)) {
        sets.push([...set, next])
      }
    }
  }
  return sets.map((set) => ({
    walls: set,
    mirrored: (point) => set.reduce((mirrored, index) => mirror(planes[index] as Plane, mirrored), point),
  }))
}

/**
 * The factor with which an image arrives at a frequency: the product of its walls' √(1 − α), and for walls that answer to angle and
 * distance a function of the source's place and the mirrored listener's.
 */
export type ImageFactor = { factor: number; between?: (source: Point, mirrored: Point) => Complex }

/** The factors of images at a frequency, in their order. */
export function imageFactors(images: readonly WallImage[], walls: readonly Wall[], frequencyHz: number): ImageFactor[] {
  const factors = walls.map(({ absorption }, index) =>
    absorption ? reflectionFactor(`walls[${index}].absorption at ${frequencyHz} Hz`, absorption(frequencyHz)) : 1,
  )
  return images.map((image) => {
    const factor = image.walls.reduce((product, index) => product * (factors[index] as number), 1)
    const grounds = image.walls.flatMap((index) => {
      const wall = walls[index] as Wall
      return wall.reflection ? [{ plane: planeOf(wall, `walls[${index}]`), reflection: wall.reflection }] : []
    })
    if (grounds.length === 0) return { factor }
    return {
      factor,
      between: (source, mirrored) => {
        const [xM, yM, zM] = [mirrored.xM - source.xM, mirrored.yM - source.yM, mirrored.zM - source.zM]
        const pathM = Math.hypot(xM, yM, zM)
        return grounds.reduce(
          (product, { plane: { nx, ny, nz }, reflection }) => {
            // A listener on the ground, at a source on the ground: rounding may carry the cosine past 1.
            const cosine = pathM === 0 ? 1 : Math.min(1, Math.abs(nx * xM + ny * yM + nz * zM) / pathM)
            return multiply(product, reflection(frequencyHz, pathM, cosine))
          },
          { re: factor, im: 0 },
        )
      },
    }
  })
}

/** |R| = √(1 − α). Throws RangeError, by the given name, for an absorption outside 0 … 1. */
export const reflectionFactor = (name: string, absorption: number): number =>
  Math.sqrt(1 - requireInRange(name, absorption, { min: 0, max: 1 }))

/**
 * Makes sure that a point is in front of every wall.
 *
 * @throws RangeError naming the wall and how far behind it the point is
 */
export function requireInFrontOfWalls(name: string, point: Point, walls: readonly Wall[]): void {
  for (const [index, wall] of walls.entries()) {
    const frontM = inFrontM(planeOf(wall, `walls[${index}]`), point)
    if (frontM < -slackM) {
      throw new RangeError(
        `${name} is ${-frontM} m behind walls[${index}]; allowed is the side that the wall's normal points to`,
      )
    }
  }
}

/** As requireInFrontOfWalls, for every source's position. */
export function requireSourcesInFrontOfWalls(sources: readonly PlacedSource[], walls: readonly Wall[]): void {
  for (const [index, source] of sources.entries()) {
    requireInFrontOfWalls(`sources[${index}].position`, source.position, walls)
  }
}

function planeOf(wall: Wall, name: string): Plane {
  requirePoint(`${name}.point`, wall.point)
  const { xM, yM, zM } = requirePoint(`${name}.normal`, wall.normal)
  const length = requireInRange(`length of ${name}.normal`, Math.hypot(xM, yM, zM), { min: 1e-9 })
  const [nx, ny, nz] = [xM / length, yM / length, zM / length]
  return { nx, ny, nz, offset: nx * wall.point.xM + ny * wall.point.yM + nz * wall.point.zM }
}

const cosine = (a: Plane, b: Plane): number => a.nx * b.nx + a.ny * b.ny + a.nz * b.nz

const inFrontM = ({ nx, ny, nz, offset }: Plane, { xM, yM, zM }: Point): number => nx * xM + ny * yM + nz * zM - offset

function mirror(plane: Plane, point: Point): Point {
  const twice = 2 * inFrontM(plane, point)
  return { xM: point.xM - twice * plane.nx, yM: point.yM - twice * plane.ny, zM: point.zM - twice * plane.nz }
}
