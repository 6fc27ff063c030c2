import { testPlace } from '../box-surface/box-equations.ts'
import type { ComplexMap } from './complex-gmres.ts'
import { type GroupEquations, signIn } from './group-equations.ts'

/** The equations of one parity at one frequency. */
export type GroupSystem = {
  /** The map of the square equations, with those of the interior points mixed in. */
  map: ComplexMap
  /** The right-hand side of the square equations from that of all rows. */
  mix(re: Float64Array, im: Float64Array): { re: Float64Array; im: Float64Array }
}

/**
 * The equations ½ − D of a group at one frequency, one system for each wanted parity:
 *
 *   A_χ(i, j) = ½ δ_ij − Σ_g χ(g) D_j(g x_i)
 *
 * The rows of interior points, C p = d, hold for the same p, so that  (A + W C) p = b + W d  does, too; W spreads each over the
 * surface by the conjugate of its own kernel. At a resonance of the inside, where A alone has no single answer, C holds it. Unlike
 * least squares this stays square and well conditioned, so that it can be solved by steps.
 *
 * @param wavenumber  k, rad/m
 */
export function groupSystems(equations: GroupEquations, wavenumber: number): (GroupSystem | undefined)[] {
  const { points, rows, wanted } = equations
  const matrices = wanted.map((want) =>
    want ? { re: new Float64Array(rows * points.count), im: new Float64Array(rows * points.count) } : undefined,
  )
  for (let row = 0; row < rows; row++) addKernels(equations, wavenumber, row, matrices)
  const k2 = wavenumber * wavenumber
  for (const [parity, matrix] of matrices.entries()) {
    if (!matrix) continue
    const [cubes, inverses] = [equations.cubes[parity] as Float64Array, equations.inverses[parity] as Float64Array]
    for (let at = 0; at < matrix.re.length; at++) {
      matrix.re[at] = -((matrix.re[at] as number) + (cubes[at] as number) + k2 * (inverses[at] as number))
      matrix.im[at] = -(matrix.im[at] as number)
    }
    for (let row = 0; row < points.count; row++) {
      const at = row * points.count + row
      matrix.re[at] = (matrix.re[at] as number) + 0.5
    }
  }
  return matrices.map((matrix) => matrix && systemOf(matrix, equations))
}

type Matrix = { re: Float64Array; im: Float64Array }

/** Adds the kernel at the points, times their weights, to one row of every wanted parity. */
function addKernels(
  equations: GroupEquations,
  k: number,
  row: number,
  matrices: readonly (Matrix | undefined)[],
): void {
  const { points, images, wanted } = equations
  const { places, weightsM2, faces, count } = points
  const place = testPlace(equations, row)
  const parities = wanted.flatMap((want, parity) => (want ? [parity] : []))
  for (const [image, [sx, sy, sz]] of images.entries()) {
    const [x, y, z] = [sx * place[0], sy * place[1], sz * place[2]]
    const seen = [x, y, z]
    const signs = parities.map((parity) => signIn(parity, image))
    for (const face of faces) {
      const height = face.atM - (seen[face.axis] as number)
      if (Math.abs(height) < planeSlackM) continue
      const end = face.first + face.u.placesM.length * face.v.placesM.length
      const scale = (-face.normal * height) / (4 * Math.PI)
      for (let j = face.first; j < end; j++) {
        const dx = (places[3 * j] as number) - x
        const dy = (places[3 * j + 1] as number) - y
        const dz = (places[3 * j + 2] as number) - z
        const squared = dx * dx + dy * dy + dz * dz
        const distance = Math.sqrt(squared)
        const kR = k * distance
        const c = Math.cos(kR)
        const s = Math.sin(kR)
        const factor = (scale * (weightsM2[j] as number)) / (squared * distance)
        const re = factor * (c + kR * s)
        const im = factor * (kR * c - s)
        const at = row * count + j
        for (let p = 0; p < parities.length; p++) {
          const matrix = matrices[parities[p] as number] as Matrix
          const sign = signs[p] as number
          matrix.re[at] = (matrix.re[at] as number) + sign * re
          matrix.im[at] = (matrix.im[at] as number) + sign * im
        }
      }
    }
  }
}

/** A place this near to a face's plane lies in it, m. */
const planeSlackM = 1e-12

function systemOf({ re, im }: Matrix, { points, rows }: GroupEquations): GroupSystem {
  const { count, weightsM2 } = points
  const extra = rows - count
  const areaM2 = weightsM2.reduce((sum, weight) => sum + weight, 0)
  /** Adds W times numbers of the interior points. */
  const addMixed = (ofRe: Float64Array, ofIm: Float64Array, outRe: Float64Array, outIm: Float64Array) => {
    for (let i = 0; i < extra; i++) {
      const a = ofRe[i] as number
      const b = ofIm[i] as number
      const first = (count + i) * count
      for (let j = 0; j < count; j++) {
        const spread = areaM2 / extra / (weightsM2[j] as number)
        const c = spread * (re[first + j] as number)
        const d = -spread * (im[first + j] as number)
        outRe[j] = (outRe[j] as number) + a * c - b * d
        outIm[j] = (outIm[j] as number) + a * d + b * c
      }
    }
  }
  const insideRe = new Float64Array(extra)
  const insideIm = new Float64Array(extra)
  return {
    map(xRe, xIm, outRe, outIm) {
      for (let row = 0; row < rows; row++) {
        let sumRe = 0
        let sumIm = 0
        const first = row * count
        for (let j = 0; j < count; j++) {
          const a = re[first + j] as number
          const b = im[first + j] as number
          const c = xRe[j] as number
          const d = xIm[j] as number
          sumRe += a * c - b * d
          sumIm += a * d + b * c
        }
        if (row < count) {
          outRe[row] = sumRe
          outIm[row] = sumIm
        } else {
          insideRe[row - count] = sumRe
          insideIm[row - count] = sumIm
        }
      }
      addMixed(insideRe, insideIm, outRe, outIm)
    },
    mix(ofRe, ofIm) {
      const made = { re: ofRe.slice(0, count), im: ofIm.slice(0, count) }
      addMixed(ofRe.subarray(count), ofIm.subarray(count), made.re, made.im)
      return made
    },
  }
}
