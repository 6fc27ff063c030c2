import type { Point } from '../../point.ts'
import { sortParities } from '../boundary-elements/mirror-planes.ts'
import type { BoxSize } from '../cabinet.ts'
import { boxImages, correctionsAt } from './box-double-layer.ts'
import { type BoxPoints, boxPoints, type SurfacePoints } from './box-points.ts'
import { edgeRule } from './edge-rule.ts'
import { interiorEighth } from './interior-points.ts'
import { boxMeshKey, interiorCount, pointsAlong } from './point-count.ts'

/** What the equations of a mesh have in common at every frequency. */
export type BoxEquations = {
  points: BoxPoints
  interiorPoints: readonly Point[]
  rows: number
  /** Static corrections (see correctionsAt) by parity, column after column: entry (row, j) at j · rows + row. */
  cubes: Float64Array[]
  inverses: Float64Array[]
}

/** Numbers of all kept quadrature together, 24 MB: up to four workers keep as much. */
const mostKept = 3e6
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
  let numbers = 0
  for (const [other, { rows, points }] of [...kept].reverse()) {
    numbers += 2 * boxImages.length * rows * points.count
    if (numbers > mostKept && other !== key) kept.delete(other)
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
  const made: BoxEquations = { points, interiorPoints, rows, cubes: [], inverses: [] }
  for (const _ of boxImages) {
    made.cubes.push(new Float64Array(rows * points.count))
    made.inverses.push(new Float64Array(rows * points.count))
  }
  for (let row = 0; row < rows; row++) {
    const [xM, yM, zM] = testPlace(made, row)
    for (const [image, [sx, sy, sz]] of boxImages.entries()) {
      const cubesOfImage = made.cubes[image] as Float64Array
      const inversesOfImage = made.inverses[image] as Float64Array
      correctionsAt(points, [sx * xM, sy * yM, sz * zM], (j, cube, inverse) => {
        cubesOfImage[j * rows + row] = cube
        inversesOfImage[j * rows + row] = inverse
      })
    }
  }
  sortImages(made.cubes)
  sortImages(made.inverses)
  return made
}

/** Sorts numbers of the images into parities, in place. */
function sortImages(parts: Float64Array[]): void {
  const images = new Float64Array(parts.length)
  const length = parts[0]?.length ?? 0
  for (let at = 0; at < length; at++) {
    for (let g = 0; g < images.length; g++) images[g] = (parts[g] as Float64Array)[at] as number
    sortParities(images)
    for (let g = 0; g < images.length; g++) (parts[g] as Float64Array)[at] = images[g] as number
  }
}

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
