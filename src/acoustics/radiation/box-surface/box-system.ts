import { setPhasor } from '../../special/phasors.ts'
import { type ComplexMatrix, complexMatrix } from '../boundary-elements/complex-least-squares.ts'
import { sortParities } from '../boundary-elements/mirror-planes.ts'
import { boxImages } from './box-double-layer.ts'
import { type BoxEquations, testPlace } from './box-equations.ts'

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
  const { points, rows } = equations
  const k = wavenumber
  const made = wanted.flatMap((want, parity) => (want ? [{ parity, ...complexMatrix(rows, points.count) }] : []))
  const images = boxImages.length
  const partRe = new Float64Array(images)
  const partIm = new Float64Array(images)
  const phasor = new Float64Array(2)
  const places = new Float64Array(3 * rows)
  for (let row = 0; row < rows; row++) places.set(testPlace(equations, row), 3 * row)
  for (const { axis, uAxis, vAxis, atM, u, v, first } of points.faces) {
    let j = first
    for (const uM of u.placesM) {
      for (const vM of v.placesM) {
        const scale = (points.weightsM2[j] as number) / (4 * Math.PI)
        for (let row = 0, at = j * rows; row < rows; row++, at++) {
          const [x, y, z] = [
            places[3 * row + uAxis] as number,
            places[3 * row + vAxis] as number,
            places[3 * row + axis] as number,
          ]
          // Squared distances along the two axes of the face, and its height, for either sign of the place's coordinate.
          const uSame = (uM - x) ** 2
          const uOther = (uM + x) ** 2
          const vSame = (vM - y) ** 2
          const vOther = (vM + y) ** 2
          // A place on the face itself: what it sends along its own plane is 0.
          const inPlane = z === atM
          for (let image = 0; image < images; image++) {
            const turned = (image >> axis) & 1
            if (inPlane && turned === 0) {
              partRe[image] = 0
              partIm[image] = 0
              continue
            }
            const height = turned ? atM + z : atM - z
            const squared =
              ((image >> uAxis) & 1 ? uOther : uSame) + ((image >> vAxis) & 1 ? vOther : vSame) + height * height
            const distance = Math.sqrt(squared)
            const kR = k * distance
            setPhasor(kR, phasor)
            const c = phasor[0] as number
            const s = phasor[1] as number
            const factor = (scale * height) / (squared * distance)
            partRe[image] = factor * (c + kR * s)
            partIm[image] = factor * (kR * c - s)
          }
          sortParities(partRe)
          sortParities(partIm)
          for (const { parity, re, im } of made) {
            const cube = (equations.cubes[parity] as Float64Array)[at] as number
            const inverse = (equations.inverses[parity] as Float64Array)[at] as number
            re[at] = (row === j ? 0.5 : 0) + (partRe[parity] as number) - cube - k * k * inverse
            im[at] = partIm[parity] as number
          }
        }
        j++
      }
    }
  }
  return wanted.map((_, parity) => made.find((matrix) => matrix.parity === parity))
}
