import type { Point } from '../../../src/acoustics/point.ts'

/** Four corners of a flat panel, anticlockwise seen from the air; two neighbours may coincide (a triangle). */
export type Quad = readonly [Point, Point, Point, Point]

/** Gauss points of the coarse rule (2 × 2, for panels well away) and of the fine rule (4 × 4, for near ones). */
export const coarsePoints = 4
export const finePoints = 16

/** Flat panels with everything that the integrals need, in flat arrays: three numbers a point, one point after another. */
export type PanelMesh = {
  count: number
  /** 12 numbers a panel. */
  corners: Float64Array
  centres: Float64Array
  /** Unit vectors out of the body, into the air. */
  normals: Float64Array
  areasM2: Float64Array
  /** Longest diagonal, m. */
  sizesM: Float64Array
  coarseNodes: Float64Array
  coarseWeightsM2: Float64Array
  fineNodes: Float64Array
  fineWeightsM2: Float64Array
}

const coarseRule = { nodes: [-1 / Math.sqrt(3), 1 / Math.sqrt(3)], weights: [1, 1] }
// Four points: ±√(3/7 ∓ (2/7)√(6/5)), weights (18 ± √30)/36
const inner = Math.sqrt(3 / 7 - (2 / 7) * Math.sqrt(6 / 5))
const outer = Math.sqrt(3 / 7 + (2 / 7) * Math.sqrt(6 / 5))
const innerWeight = (18 + Math.sqrt(30)) / 36
const outerWeight = (18 - Math.sqrt(30)) / 36
const fineRule = {
  nodes: [-outer, -inner, inner, outer],
  weights: [outerWeight, innerWeight, innerWeight, outerWeight],
}

/**
 * A mesh of flat panels, with Gauss points on each.
 *
 * @param quads  the panels, normals (by the right-hand rule) pointing into the air; corners in m, one plane each
 * @returns      PanelMesh, panels in the given order; its centres are the centroids, where the equations are tested
 * @throws RangeError for a panel without area, or one that is not flat
 * Source: Gauss–Legendre rules of two and four points, DLMF Table 3.5.1; bilinear map of the square.
 */
export function panelMesh(quads: readonly Quad[]): PanelMesh {
  const count = quads.length
  const mesh: PanelMesh = {
    count,
    corners: new Float64Array(12 * count),
    centres: new Float64Array(3 * count),
    normals: new Float64Array(3 * count),
    areasM2: new Float64Array(count),
    sizesM: new Float64Array(count),
    coarseNodes: new Float64Array(3 * coarsePoints * count),
    coarseWeightsM2: new Float64Array(coarsePoints * count),
    fineNodes: new Float64Array(3 * finePoints * count),
    fineWeightsM2: new Float64Array(finePoints * count),
  }
  quads.forEach((quad, panel) => {
    const corners = quad.flatMap(({ xM, yM, zM }) => [xM, yM, zM])
    mesh.corners.set(corners, 12 * panel)
    const diagonals = [0, 1, 2].map((i) => [
      (corners[6 + i] as number) - (corners[i] as number),
      (corners[9 + i] as number) - (corners[3 + i] as number),
    ]) as [number, number][]
    const [[ax, bx], [ay, by], [az, bz]] = diagonals as [[number, number], [number, number], [number, number]]
    const cross = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx] as const
    const crossLength = Math.hypot(...cross)
    const sizeM = Math.max(Math.hypot(ax, ay, az), Math.hypot(bx, by, bz))
    if (!(crossLength > 1e-12 * sizeM * sizeM)) {
      throw new RangeError(`quads[${panel}] has an area of ${crossLength / 2} m²; allowed is any area above 0`)
    }
    const normal = cross.map((part) => part / crossLength) as [number, number, number]
    const lift = [0, 1, 2].reduce(
      (sum, i) => sum + (normal[i] as number) * ((corners[3 + i] as number) - (corners[i] as number)),
      0,
    )
    if (Math.abs(lift) > 1e-6 * sizeM) {
      throw new RangeError(
        `quads[${panel}] has a corner ${lift} m off the plane of the others; allowed is a flat panel`,
      )
    }
    mesh.normals.set(normal, 3 * panel)
    mesh.sizesM[panel] = sizeM
    setRule(quad, normal, coarseRule, mesh.coarseNodes, mesh.coarseWeightsM2, panel)
    setRule(quad, normal, fineRule, mesh.fineNodes, mesh.fineWeightsM2, panel)
    // The 2 × 2 rule is exact for the area and the first moments of a bilinear quad.
    let areaM2 = 0
    const centre = [0, 0, 0]
    for (let q = coarsePoints * panel; q < coarsePoints * (panel + 1); q++) {
      const weight = mesh.coarseWeightsM2[q] as number
      areaM2 += weight
      for (let i = 0; i < 3; i++) centre[i] = (centre[i] as number) + weight * (mesh.coarseNodes[3 * q + i] as number)
    }
    mesh.areasM2[panel] = areaM2
    mesh.centres.set(
      centre.map((part) => part / areaM2),
      3 * panel,
    )
  })
  return mesh
}

function setRule(
  [a, b, c, d]: Quad,
  normal: readonly [number, number, number],
  rule: { nodes: number[]; weights: number[] },
  nodes: Float64Array,
  weightsM2: Float64Array,
  panel: number,
): void {
  let q = panel * rule.nodes.length ** 2
  rule.nodes.forEach((u, i) => {
    rule.nodes.forEach((v, j) => {
      const shape = [(1 - u) * (1 - v), (1 + u) * (1 - v), (1 + u) * (1 + v), (1 - u) * (1 + v)].map((s) => s / 4)
      const alongU = [v - 1, 1 - v, 1 + v, -1 - v].map((s) => s / 4)
      const alongV = [u - 1, -1 - u, 1 + u, 1 - u].map((s) => s / 4)
      const at = (weights: number[]): [number, number, number] => {
        const [w0, w1, w2, w3] = weights as [number, number, number, number]
        return [
          w0 * a.xM + w1 * b.xM + w2 * c.xM + w3 * d.xM,
          w0 * a.yM + w1 * b.yM + w2 * c.yM + w3 * d.yM,
          w0 * a.zM + w1 * b.zM + w2 * c.zM + w3 * d.zM,
        ]
      }
      nodes.set(at(shape), 3 * q)
      const [ux, uy, uz] = at(alongU)
      const [vx, vy, vz] = at(alongV)
      const jacobian =
        normal[0] * (uy * vz - uz * vy) + normal[1] * (uz * vx - ux * vz) + normal[2] * (ux * vy - uy * vx)
      weightsM2[q] = (rule.weights[i] as number) * (rule.weights[j] as number) * jacobian
      q++
    })
  })
}
