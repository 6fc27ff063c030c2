import { addTimes } from '../boundary-elements/add-times.ts'
import { type ComplexMatrix, complexMatrix } from '../boundary-elements/complex-matrix.ts'
import { sortPanelParities } from '../boundary-elements/mirror-planes.ts'
import { boxImages, setKernels } from './box-double-layer.ts'
import { type BoxEquations, type NearCorrections, testPlace } from './box-equations.ts'

/**
 * The matrices ½ − D of a box at one frequency, one for each parity of the pressure that is wanted:
 *
 *   A_χ(i, j) = ½ δ_ij − Σ_g χ(g) D_j(g x_i),   g the eight images
 *
 * and −D alone in the rows of interior points.
 *
 * @param equations   from equationsFor
 * @param wavenumber  k, rad/m
 * @param wanted      for each parity (see sortParities) whether its matrix is made
 */
export function boxSystem(
  equations: BoxEquations,
  wavenumber: number,
  wanted: readonly boolean[],
): (ComplexMatrix | undefined)[] {
  const { points, rows, near } = equations
  const { count } = points
  const images = boxImages.length
  const matrices = wanted.map((want) => (want ? complexMatrix(rows, count) : undefined))
  // Of one row: image after image, then parity after parity
  const rowRe = new Float64Array(images * count)
  const rowIm = new Float64Array(images * count)
  for (let row = 0; row < rows; row++) {
    const place = testPlace(equations, row)
    for (let image = 0; image < images; image++) {
      const first = image * count
      setKernels(points, wavenumber, imageOf(place, image), rowRe, rowIm, first)
      addNear(near, row * images + image, wavenumber * wavenumber, rowRe, first)
    }
    sortPanelParities(rowRe, images)
    sortPanelParities(rowIm, images)
    for (let parity = 0; parity < images; parity++) {
      const matrix = matrices[parity]
      if (!matrix) continue
      addTimes(matrix.re, row * count, rowRe, parity * count, -1, count)
      addTimes(matrix.im, row * count, rowIm, parity * count, -1, count)
      if (row < count) matrix.re[row * count + row] = (matrix.re[row * count + row] as number) + 0.5
    }
  }
  return matrices
}

/** A place's image. */
function imageOf(place: readonly [number, number, number], image: number): [number, number, number] {
  const signs = boxImages[image] as [number, number, number]
  return [signs[0] * place[0], signs[1] * place[1], signs[2] * place[2]]
}

/** Adds the corrections of a row's image to its numbers, which begin at `first`. */
function addNear(
  { starts, points, cubes, inverses }: NearCorrections,
  rowAndImage: number,
  squaredWavenumber: number,
  re: Float64Array,
  first: number,
): void {
  const end = starts[rowAndImage + 1] as number
  for (let entry = starts[rowAndImage] as number; entry < end; entry++) {
    const at = first + (points[entry] as number)
    re[at] = (re[at] as number) + (cubes[entry] as number) + squaredWavenumber * (inverses[entry] as number)
  }
}
