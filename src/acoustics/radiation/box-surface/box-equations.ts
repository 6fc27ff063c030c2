import type { Point } from '../../point.ts'
import type { BoxSize } from '../cabinet.ts'
import { boxImages, correctionCount, correctionsAt } from './box-double-layer.ts'
import { type BoxPoints, boxPoints, type SurfacePoints } from './box-points.ts'
import { edgeRule } from './edge-rule.ts'
import { interiorEighth } from './interior-points.ts'
import { boxMeshKey, interiorCount, pointsAlong } from './point-count.ts'

/** What the equations of a mesh have in common at every frequency. */
export type BoxEquations = {
  points: BoxPoints
  interiorPoints: readonly Point[]
  rows: number
  near: NearCorrections
}

/** Static corrections (see correctionsAt) of what is near: those of row r seen in image g from starts[8 r + g] to before the next start. */
export type NearCorrections = { starts: Uint32Array; points: Uint32Array; cubes: Float64Array; inverses: Float64Array }

/** Corrections of all kept meshes together, 2 MB: what is asked next is most often of the same mesh. */
const mostKept = 1e5
const kept = new Map<string, BoxEquations>()

/**
 * The mesh of a box for a frequency with its quadrature, which depends on the box alone and is kept.
 *
 * @param wavenumber           rad/m
 * @param pointsPerWavelength  see pointsAlong
 */
export function equationsFor(size: BoxSize, wavenumber: number, pointsPerWavelength: number): BoxEquations {
  const key = boxMeshKey(size, wavenumber, pointsPerWavelength)
  const equations =
    kept.get(key) ??
    boxEquations(size, pointsAlong(size, wavenumber, pointsPerWavelength), interiorCount(size, wavenumber))
  // Newest last.
  kept.delete(key)
  kept.set(key, equations)
  let corrections = 0
  for (const [other, { near }] of [...kept].reverse()) {
    corrections += near.points.length
    if (corrections > mostKept && other !== key) kept.delete(other)
  }
  return equations
}

/**
 * Makes a mesh and the quadrature between its faces.
 *
 * @param counts    points along half of each edge
 * @param interior  interior points
 */
export function boxEquations(size: BoxSize, counts: readonly [number, number, number], interior: number): BoxEquations {
  const halves = [size.widthM / 2, size.heightM / 2, size.depthM / 2] as const
  const [x, y, z] = halves.map((halfM, axis) => edgeRule(halfM, [], [counts[axis] as number])) as [
    ReturnType<typeof edgeRule>,
    ReturnType<typeof edgeRule>,
    ReturnType<typeof edgeRule>,
  ]
  const points = boxPoints(size, [x, y, z])
  const interiorPoints = interiorEighth(size, interior)
  const rows = points.count + interiorPoints.length
  const images = Array.from({ length: rows }, (_, row) => imagesOf(testPlace({ points, interiorPoints }, row))).flat()
  const starts = new Uint32Array(images.length + 1)
  for (const [at, image] of images.entries()) starts[at + 1] = (starts[at] as number) + correctionCount(points, image)
  const count = starts[images.length] as number
  const near = {
    starts,
    points: new Uint32Array(count),
    cubes: new Float64Array(count),
    inverses: new Float64Array(count),
  }
  let entry = 0
  for (const image of images) {
    correctionsAt(points, image, (point, cube, inverse) => {
      near.points[entry] = point
      near.cubes[entry] = cube
      near.inverses[entry] = inverse
      entry++
    })
  }
  return { points, interiorPoints, rows, near }
}

/** The eight images of a place. */
const imagesOf = ([x, y, z]: [number, number, number]) =>
  boxImages.map(([sx, sy, sz]): [number, number, number] => [sx * x, sy * y, sz * z])

/** The test place of a row: a point of the surface, or one of the interior points behind them. */
export function testPlace(
  { points, interiorPoints }: { points: Pick<SurfacePoints, 'count' | 'places'>; interiorPoints: readonly Point[] },
  row: number,
): [number, number, number] {
  if (row < points.count) {
    return [0, 1, 2].map((axis) => points.places[3 * row + axis] as number) as [number, number, number]
  }
  const { xM, yM, zM } = interiorPoints[row - points.count] as Point
  return [xM, yM, zM]
}
