import type { Point } from '../../../src/acoustics/point.ts'
import { leastSquaresSolver } from '../../../src/acoustics/radiation/boundary-elements/complex-least-squares.ts'
import { type ComplexMatrix, complexMatrix } from '../../../src/acoustics/radiation/boundary-elements/complex-matrix.ts'
import {
  imageSigns,
  type MirrorPlanes,
  sortPanelParities,
  sortParities,
} from '../../../src/acoustics/radiation/boundary-elements/mirror-planes.ts'
import { doubleLayerRow } from './double-layer.ts'
import { coarsePoints, type PanelMesh } from './panel-mesh.ts'

/** Adds to `out` (real, imaginary) the pressure that the surface's own velocity makes: jωρ ∫ G v dS, Pa. */
export type SurfacePotential = ((x: number, y: number, z: number, out: Float64Array) => void) & {
  /** The planes in which it is its own mirror image, if known: it is then asked for on one side of them alone. */
  alike?: Partial<MirrorPlanes>
  /** Its own plane with moving parts, if bodies of one group have several; see ExteriorBody.movingPlaneZM. */
  movingPlaneZM?: number
}

/** A rigid body at one frequency, without what moves its surface. */
export type ExteriorBody = {
  /** The body's surface, or the part of it on the positive side of its mirror planes. */
  mesh: PanelMesh
  planes: MirrorPlanes
  wavenumber: number
  /** Points inside the body, in its meshed part, where the sound has to vanish. */
  interiorPoints: readonly Point[]
  /**
   * z of the plane with the moving parts, m: on its panels the velocity's potential is averaged over the panel instead of
   * taken at the centre, because the pressure, which follows it there, bends strongly from panel to panel.
   */
  movingPlaneZM?: number
}

/** A rigid body with a moving surface. */
export type ExteriorProblem = ExteriorBody & { velocityPotential: SurfacePotential }

/** Pressure on the surface, constant on each panel. */
export type SurfacePressure = {
  mesh: PanelMesh
  images: [number, number, number][]
  /** Panel j's image g at g · mesh.count + j, Pa. */
  re: Float64Array
  im: Float64Array
  /** Greatest residual of the overdetermined equations over their right-hand side. */
  relativeResidual: number
}

/** A panel within this distance of the moving plane lies in it, m. */
const planeSlackM = 1e-9

/** Right-hand sides weaker than this share of the strongest are rounding: that parity of the sound does not exist. */
const silentParity = 1e-12

/**
 * Pressure on the surface of a rigid body in free space, from the direct boundary integral (time factor e^{+jωt}, n into
 * the air), tested at the panel centres x and at interior points x′:
 *
 *   ½ p(x) − ∫ p ∂G/∂n dS = jωρ ∫ G v dS,        −∫ p ∂G/∂n dS = jωρ ∫ G v dS  at x′
 *
 * The second row makes the solution unique at the resonances of the body's inside, where the first alone fails; both
 * together are solved by least squares (CHIEF). It was taken rather than Burton and Miller's combination with the normal
 * derivative, because it needs the surface velocity only through its potential: a driver's aperture is integrated exactly
 * and its rim may run across panels, where the normal derivative would jump; and no hypersingular kernel arises.
 *
 * Mirror planes of the body split the equations into parities that do not know of each other, whatever moves the
 * surface: one plane halves the unknowns, three leave an eighth; parities that the velocity does not contain are
 * left out.
 *
 * @param problem  the body, its velocity's potential, and enough interior points (a few for each resonance of the inside
 *                 that lies below the frequency)
 * @returns        SurfacePressure
 * @throws RangeError if the equations are singular
 * Source: H. A. Schenck, J. Acoust. Soc. Am. 44 (1968) 41–58 (interior points); Morse & Ingard, Theoretical Acoustics,
 *         section 7.1 (the integral).
 */
export function exteriorSolution(problem: ExteriorProblem): SurfacePressure {
  return exteriorSolutions(problem, [problem.velocityPotential])[0] as SurfacePressure
}

/**
 * The same body moved in several ways, one after another: its matrices are made and factored once for all. Each answer is
 * to the last bit the one that exteriorSolution gives for that motion alone.
 *
 * @param body                see exteriorSolution
 * @param velocityPotentials  one for each motion of the surface
 */
export function exteriorSolutions(
  body: ExteriorBody,
  velocityPotentials: readonly SurfacePotential[],
): SurfacePressure[] {
  const { mesh, planes, interiorPoints } = body
  const images = imageSigns(planes)
  const rows = mesh.count + interiorPoints.length
  const sides = velocityPotentials.map((velocityPotential) => rightHandSides(body, velocityPotential, images))
  const wanted = images.map((_, parity) => sides.some(({ present }) => present[parity]))
  const matrices = systemMatrices(body, images, wanted)
  const solutions = sides.map(
    (): SurfacePressure => ({
      mesh,
      images,
      re: new Float64Array(images.length * mesh.count),
      im: new Float64Array(images.length * mesh.count),
      relativeResidual: 0,
    }),
  )
  matrices.forEach((matrix, parity) => {
    if (!matrix) return
    const solve = leastSquaresSolver(matrix)
    sides.forEach(({ right, present }, set) => {
      if (!present[parity]) return
      const part = solve({
        re: right.re.subarray(parity * rows, (parity + 1) * rows),
        im: right.im.subarray(parity * rows, (parity + 1) * rows),
      })
      const solution = solutions[set] as SurfacePressure
      solution.relativeResidual = Math.max(solution.relativeResidual, part.relativeResidual)
      solution.re.set(part.re, parity * mesh.count)
      solution.im.set(part.im, parity * mesh.count)
    })
  })
  for (const { re, im } of solutions) {
    sortPanelParities(re, images.length)
    sortPanelParities(im, images.length)
  }
  return solutions
}

/** The test point of a row: a panel's centre, or one of the interior points behind them. */
function testPoint({ mesh, interiorPoints }: ExteriorBody, row: number): [number, number, number] {
  if (row < mesh.count) return [0, 1, 2].map((i) => mesh.centres[3 * row + i] as number) as [number, number, number]
  const { xM, yM, zM } = interiorPoints[row - mesh.count] as Point
  return [xM, yM, zM]
}

function rightHandSides(
  body: ExteriorBody,
  velocityPotential: SurfacePotential,
  images: [number, number, number][],
): { right: { re: Float64Array; im: Float64Array }; present: boolean[] } {
  const { mesh } = body
  const movingPlaneZM = velocityPotential.movingPlaneZM ?? body.movingPlaneZM
  const rows = mesh.count + body.interiorPoints.length
  const right = { re: new Float64Array(images.length * rows), im: new Float64Array(images.length * rows) }
  const out = new Float64Array(2)
  const twins = alikeImages(images, velocityPotential.alike)
  const { coarseNodes, coarseWeightsM2, areasM2 } = mesh
  for (let row = 0; row < rows; row++) {
    const [x, y, z] = testPoint(body, row)
    images.forEach(([sx, sy, sz], g) => {
      const twin = twins[g] as number
      if (twin < g) {
        right.re[g * rows + row] = right.re[twin * rows + row] as number
        right.im[g * rows + row] = right.im[twin * rows + row] as number
        return
      }
      let re = 0
      let im = 0
      if (movingPlaneZM !== undefined && row < mesh.count && Math.abs(sz * z - movingPlaneZM) < planeSlackM) {
        for (let q = coarsePoints * row; q < coarsePoints * (row + 1); q++) {
          out.fill(0)
          const [px, py, pz] = [coarseNodes[3 * q], coarseNodes[3 * q + 1], coarseNodes[3 * q + 2]]
          velocityPotential(sx * (px as number), sy * (py as number), sz * (pz as number), out)
          const share = (coarseWeightsM2[q] as number) / (areasM2[row] as number)
          re += share * (out[0] as number)
          im += share * (out[1] as number)
        }
      } else {
        out.fill(0)
        velocityPotential(sx * x, sy * y, sz * z, out)
        re = out[0] as number
        im = out[1] as number
      }
      right.re[g * rows + row] = re / images.length
      right.im[g * rows + row] = im / images.length
    })
  }
  sortPanelParities(right.re, images.length)
  sortPanelParities(right.im, images.length)
  const strengths = images.map((_, parity) => {
    let strength = 0
    for (let at = parity * rows; at < (parity + 1) * rows; at++) {
      strength = Math.max(strength, Math.abs(right.re[at] as number), Math.abs(right.im[at] as number))
    }
    return strength
  })
  const strongest = Math.max(...strengths)
  return { right, present: strengths.map((strength) => strength > silentParity * strongest) }
}

/** For each image the first one at which the potential is the same. */
function alikeImages(images: readonly [number, number, number][], alike: Partial<MirrorPlanes> = {}): number[] {
  return images.map(([sx, sy, sz]) =>
    images.findIndex(([x, y, z]) => (alike.x || x === sx) && (alike.y || y === sy) && (alike.z || z === sz)),
  )
}

function systemMatrices(
  body: ExteriorBody,
  images: [number, number, number][],
  wantedParities: boolean[],
): (ComplexMatrix | undefined)[] {
  const { mesh, wavenumber, interiorPoints } = body
  const columns = mesh.count
  const rows = columns + interiorPoints.length
  const matrices = wantedParities.map((wanted) => (wanted ? complexMatrix(rows, columns) : undefined))
  const rowRe = images.map(() => new Float64Array(columns))
  const rowIm = images.map(() => new Float64Array(columns))
  const partRe = new Float64Array(images.length)
  const partIm = new Float64Array(images.length)
  for (let row = 0; row < rows; row++) {
    const [x, y, z] = testPoint(body, row)
    images.forEach(([sx, sy, sz], g) => {
      // The image of a panel seen from x is the panel seen from the image of x.
      doubleLayerRow(mesh, wavenumber, sx * x, sy * y, sz * z, rowRe[g] as Float64Array, rowIm[g] as Float64Array)
    })
    for (let j = 0; j < columns; j++) {
      for (let g = 0; g < images.length; g++) {
        partRe[g] = (rowRe[g] as Float64Array)[j] as number
        partIm[g] = (rowIm[g] as Float64Array)[j] as number
      }
      sortParities(partRe)
      sortParities(partIm)
      for (let parity = 0; parity < images.length; parity++) {
        const matrix = matrices[parity]
        if (!matrix) continue
        const at = row * columns + j
        matrix.re[at] = (row === j ? 0.5 : 0) - (partRe[parity] as number)
        matrix.im[at] = -(partIm[parity] as number)
      }
    }
  }
  return matrices
}

/**
 * Pressure from the surface integral at a point outside the body:  p = ∫ p ∂G/∂n dS + jωρ ∫ G v dS, Pa.
 * On the surface it is half of the pressure there, inside the body 0 (both to the accuracy of the mesh).
 *
 * @param solution  from exteriorSolution
 * @param problem   what it was made from
 */
export function surfaceIntegral(
  solution: SurfacePressure,
  { mesh, wavenumber, velocityPotential }: Pick<ExteriorProblem, 'mesh' | 'wavenumber' | 'velocityPotential'>,
  { xM, yM, zM }: Point,
): { re: number; im: number } {
  const out = new Float64Array(2)
  velocityPotential(xM, yM, zM, out)
  let re = out[0] as number
  let im = out[1] as number
  const rowRe = new Float64Array(mesh.count)
  const rowIm = new Float64Array(mesh.count)
  solution.images.forEach(([sx, sy, sz], g) => {
    doubleLayerRow(mesh, wavenumber, sx * xM, sy * yM, sz * zM, rowRe, rowIm)
    for (let j = 0, at = g * mesh.count; j < mesh.count; j++, at++) {
      const pRe = solution.re[at] as number
      const pIm = solution.im[at] as number
      const dRe = rowRe[j] as number
      const dIm = rowIm[j] as number
      re += pRe * dRe - pIm * dIm
      im += pRe * dIm + pIm * dRe
    }
  })
  return { re, im }
}
