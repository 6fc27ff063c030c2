import { setPhasors } from '../../special/phasors.ts'
import { imageSigns } from '../boundary-elements/mirror-planes.ts'
import type { FacePart, SurfacePoints } from './box-points.ts'
import { isNear, nearIntegrals } from './near-integrals.ts'

/** The eight images of the eighth of a box. */
export const boxImages = imageSigns({ x: true, y: true, z: true })

/** A place this near to a face’s plane lies in it, m: that face sends nothing there. */
const planeSlackM = 1e-12

let cubes = new Float64Array(0)
let inverses = new Float64Array(0)

/**
 * Static corrections at one place: for the points of every patch that is too near for its own Gauss points, what the exact
 * integrals  −h/4π ∫ ℓ_j/R³ dS  and  −h/8π ∫ ℓ_j/R dS  have over the kernel at the point, times its weight.
 *
 * @param put  takes the number of a point and the corrections of the first and of the second (which is to be times k²)
 */
export function correctionsAt(
  { faces, weightsM2 }: SurfacePoints,
  place: readonly [number, number, number],
  put: (point: number, cube: number, inverse: number) => void,
): void {
  for (const face of faces) {
    const height = heightOver(face, place)
    if (height === 0) continue
    const [uM, vM] = [place[face.uAxis], place[face.vAxis]]
    const vCount = face.v.placesM.length
    for (const u of face.u.patches) {
      for (const v of face.v.patches) {
        if (!isNear(u, v, uM, vM, height)) continue
        if (cubes.length < u.count * v.count) {
          cubes = new Float64Array(u.count * v.count)
          inverses = new Float64Array(u.count * v.count)
        }
        nearIntegrals(u, v, uM, vM, height, cubes, inverses)
        for (let i = 0, at = 0; i < u.count; i++) {
          const du = (face.u.placesM[u.first + i] as number) - uM
          for (let j = 0; j < v.count; j++, at++) {
            const dv = (face.v.placesM[v.first + j] as number) - vM
            const point = face.first + (u.first + i) * vCount + v.first + j
            const weightM2 = weightsM2[point] as number
            const inverse = 1 / Math.sqrt(du * du + dv * dv + height * height)
            const scale = (-face.normal * height) / (4 * Math.PI)
            put(
              point,
              scale * ((cubes[at] as number) - weightM2 * inverse ** 3),
              (scale / 2) * ((inverses[at] as number) - weightM2 * inverse),
            )
          }
        }
      }
    }
  }
}

/** How many corrections there are at a place. */
export function correctionCount({ faces }: SurfacePoints, place: readonly [number, number, number]): number {
  let count = 0
  for (const face of faces) {
    const height = heightOver(face, place)
    if (height === 0) continue
    for (const u of face.u.patches) {
      for (const v of face.v.patches) {
        if (isNear(u, v, place[face.uAxis], place[face.vAxis], height)) count += u.count * v.count
      }
    }
  }
  return count
}

/** Distance of a face's plane from a place, up its axis, m; exactly 0 in the plane. */
function heightOver({ axis, atM }: FacePart, place: readonly [number, number, number]): number {
  const height = atM - place[axis]
  return Math.abs(height) < planeSlackM ? 0 : height
}

/**
 * Double-layer potential of a surface of rectangles, as the eighth of a box, at a place anywhere, with the polynomial of each point as its density:
 *
 *   D_j = ∫ ℓ_j ∂G/∂n dS,   ∂G/∂n = −h (1 + jkR) e^{−jkR}/(4πR³),   h the height of the face over the place
 *
 * From afar it is the kernel at the point, times its weight. From nearby the terms 1/R³ and k²/2R of the kernel are integrated
 * for the place (see nearIntegrals); what is left, −jk³/3 − k⁴R/8 …, is smooth and taken at the points. A face in whose plane the
 * place lies gives 0, the principal value.
 *
 * @param points      the eighth, or whatever rectangles
 * @param wavenumber  k, rad/m, 0 or more
 * @param place       x, y, z, m; the image of an eighth seen from a place is the eighth seen from the place's image
 * @param outRe       receives Re D_j, `points.count` numbers
 * @param outIm       receives Im D_j
 * Source: Kirchhoff–Helmholtz kernel, Morse & Ingard, Theoretical Acoustics, section 7.1.
 */
export function boxDoubleLayer(
  points: SurfacePoints,
  wavenumber: number,
  place: readonly [number, number, number],
  outRe: Float64Array,
  outIm: Float64Array,
): void {
  setKernels(points, wavenumber, place, outRe, outIm)
  correctionsAt(points, place, (j, cube, inverse) => {
    outRe[j] = (outRe[j] as number) + cube + wavenumber * wavenumber * inverse
  })
}

/** Of the points of one face: distances, and cosines and sines of their phases. */
let ofFace = { distances: new Float64Array(0), cosines: new Float64Array(0), sines: new Float64Array(0) }

/** The kernels of boxDoubleLayer at the points, times their weights: all of it but the corrections. It goes into the arrays from `at` on. */
export function setKernels(
  { faces, places, weightsM2, count }: SurfacePoints,
  wavenumber: number,
  place: readonly [number, number, number],
  outRe: Float64Array,
  outIm: Float64Array,
  at = 0,
): void {
  const [x, y, z] = place
  if (ofFace.distances.length < count) {
    const array = () => new Float64Array(count)
    ofFace = { distances: array(), cosines: array(), sines: array() }
  }
  const { distances, cosines, sines } = ofFace
  for (const face of faces) {
    const first = at + face.first
    const length = face.u.placesM.length * face.v.placesM.length
    const height = heightOver(face, place)
    if (height === 0) {
      outRe.fill(0, first, first + length)
      outIm.fill(0, first, first + length)
      continue
    }
    for (let i = 0, p = 3 * face.first; i < length; i++, p += 3) {
      const dx = (places[p] as number) - x
      const dy = (places[p + 1] as number) - y
      const dz = (places[p + 2] as number) - z
      const distance = Math.sqrt(dx * dx + dy * dy + dz * dz)
      distances[i] = distance
      cosines[i] = wavenumber * distance
    }
    setPhasors(cosines, length, cosines, sines)
    const scale = (-face.normal * height) / (4 * Math.PI)
    for (let i = 0; i < length; i++) {
      const distance = distances[i] as number
      const kR = wavenumber * distance
      const c = cosines[i] as number
      const s = sines[i] as number
      const factor = (scale * (weightsM2[face.first + i] as number)) / (distance * distance * distance)
      outRe[first + i] = factor * (c + kR * s)
      outIm[first + i] = factor * (kR * c - s)
    }
  }
}
