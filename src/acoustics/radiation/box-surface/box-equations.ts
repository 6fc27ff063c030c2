import type { Point } from '../../point.ts'
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
  near: NearCorrections
}

/** Static corrections (see correctionsAt) of what is near: those of row r seen in image g from starts[8 r + g] to before the next start. */
export type NearCorrections = { starts: Uint32Array; points: Uint32Array; cubes: Float64Array; inverses: Float64Array }

/** Corrections of all kept meshes together, 5 MB: up to four workers keep as much. */
const mostKept = 2.5e5
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
  const starts = new Uint32Array(boxImages.length * rows + 1)
  const near: number[] = []
  const cubes: number[] = []
  const inverses: number[] = []
  for (let row = 0, at = 0; row < rows; row++) {
    const [xM, yM, zM] = testPlace({ points, interiorPoints }, row)
    for (const [sx, sy, sz] of boxImages) {
      correctionsAt(points, [sx * xM, sy * yM, sz * zM], (point, cube, inverse) => {
        near.push(point)
        cubes.push(cube)
        inverses.push(inverse)
      })
      at += 1
      starts[at] = near.length
    }
  }
  return {
    points,
    interiorPoints,
    rows,
    near: {
      starts,
      points: new Uint32Array(near),
      cubes: new Float64Array(cubes),
      inverses: new Float64Array(inverses),
    },
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
