import { addTimes } from '../boundary-elements/add-times.ts'
import { setKernels } from '../box-surface/box-double-layer.ts'
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
  const { points, images } = equations
  const { count } = points
  const [x, y, z] = testPlace(equations, row)
  const re = new Float64Array(count)
  const im = new Float64Array(count)
  for (const [image, [sx, sy, sz]] of images.entries()) {
    setKernels(points, k, [sx * x, sy * y, sz * z], re, im)
    for (const [parity, matrix] of matrices.entries()) {
      if (!matrix) continue
      const sign = signIn(parity, image)
      addTimes(matrix.re, row * count, re, 0, sign, count)
      addTimes(matrix.im, row * count, im, 0, sign, count)
    }
  }
}

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
