import type { Point } from '../../../src/acoustics/point.ts'
import { gaussLegendre } from '../../../src/acoustics/special/gauss-legendre.ts'
import type { SurfacePotential } from './exterior-solution.ts'
import { coarsePoints, panelMesh, type Quad } from './panel-mesh.ts'

/**
 * A quarter (x > 0, y > 0) or the whole of a sphere of radius 1, in flat panels between circles of latitude about +z. The
 * corners lie a little outside, so that the panels have the sphere's surface in sum.
 *
 * @param bands         rings from pole to pole; circle `capBands` lies at the angle `capRad` from +z
 * @param roundQuarter  panels of a ring in a quarter
 */
export function spherePanels(
  { bands, capBands, capRad, roundQuarter }: { bands: number; capBands: number; capRad: number; roundQuarter: number },
  part: 'quarter' | 'whole',
): { quads: Quad[]; isCap: boolean[] } {
  const polarRad = (ring: number): number =>
    ring <= capBands
      ? (capRad * ring) / capBands
      : capRad + ((Math.PI - capRad) * (ring - capBands)) / (bands - capBands)
  const at = (radius: number, ring: number, step: number): Point => {
    const roundRad = (Math.PI * step) / (2 * roundQuarter)
    const sine = ring === bands ? 0 : Math.sin(polarRad(ring))
    const [xM, yM] = [sine * Math.cos(roundRad), sine * Math.sin(roundRad)]
    return { xM: radius * xM, yM: radius * yM, zM: radius * Math.cos(polarRad(ring)) }
  }
  const quads = (radius: number, steps: number): { quads: Quad[]; isCap: boolean[] } => {
    const made: Quad[] = []
    const isCap: boolean[] = []
    for (let ring = 0; ring < bands; ring++) {
      for (let step = 0; step < steps; step++) {
        made.push([
          at(radius, ring, step),
          at(radius, ring + 1, step),
          at(radius, ring + 1, step + 1),
          at(radius, ring, step + 1),
        ])
        isCap.push(ring < capBands)
      }
    }
    return { quads: made, isCap }
  }
  const flatArea = quads(1, roundQuarter).quads.reduce((sum, quad) => sum + quadAreaM2(quad), 0)
  const radius = Math.sqrt(Math.PI / flatArea)
  return quads(radius, part === 'whole' ? 4 * roundQuarter : roundQuarter)
}

/** Area of a flat quad, m²: half the length of the cross product of its diagonals. */
export function quadAreaM2([a, b, c, d]: Quad): number {
  const [px, py, pz] = [c.xM - a.xM, c.yM - a.yM, c.zM - a.zM]
  const [qx, qy, qz] = [d.xM - b.xM, d.yM - b.yM, d.zM - b.zM]
  return Math.hypot(py * qz - pz * qy, pz * qx - px * qz, px * qy - py * qx) / 2
}

const edgeRule = gaussLegendre(12)

/** From this many diagonals on, 2 × 2 Gauss points stand for a panel. */
const farSizes = 4

/**
 * Potential jωρ ∫ G dS × velocity of flat panels that move evenly, near ones as integrals along their edges:
 *
 *   ∫ e^{−jkR}/R dS = Σ_edges d ∫ (e^{−jk|h|} − e^{−jkR})/(jk ρ²) ds,
 *
 * d the distance of the edge's line from the point's foot on the plane, ρ the distance of the edge's point from it.
 */
export function evenPanelsPotential(
  quads: readonly Quad[],
  velocityMps: number,
  { wavenumber, omegaRho }: { wavenumber: number; omegaRho: number },
): SurfacePotential {
  const mesh = panelMesh(quads)
  return (x, y, z, out) => {
    quads.forEach((quad, panel) => {
      const [cx, cy, cz] = [0, 1, 2].map((i) => mesh.centres[3 * panel + i] as number) as [number, number, number]
      if (Math.hypot(cx - x, cy - y, cz - z) > farSizes * (mesh.sizesM[panel] as number)) {
        for (let g = coarsePoints * panel; g < coarsePoints * (panel + 1); g++) {
          const [gx, gy, gz] = [mesh.coarseNodes[3 * g], mesh.coarseNodes[3 * g + 1], mesh.coarseNodes[3 * g + 2]]
          const distance = Math.hypot((gx as number) - x, (gy as number) - y, (gz as number) - z)
          const strength = (omegaRho * velocityMps * (mesh.coarseWeightsM2[g] as number)) / (4 * Math.PI * distance)
          out[0] = (out[0] as number) + strength * Math.sin(wavenumber * distance)
          out[1] = (out[1] as number) + strength * Math.cos(wavenumber * distance)
        }
        return
      }
      const [a, b, c, d] = quad
      const p = [c.xM - a.xM, c.yM - a.yM, c.zM - a.zM] as const
      const q = [d.xM - b.xM, d.yM - b.yM, d.zM - b.zM] as const
      const cross = [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]] as const
      const length = Math.hypot(...cross)
      const [nx, ny, nz] = cross.map((part) => part / length) as [number, number, number]
      const height = Math.abs((a.xM - x) * nx + (a.yM - y) * ny + (a.zM - z) * nz)
      let re = 0
      let im = 0
      quad.forEach((from, i) => {
        const to = quad[(i + 1) % 4] as Point
        const [ex, ey, ez] = [to.xM - from.xM, to.yM - from.yM, to.zM - from.zM]
        // d · |edge| = n · (edge × (x − from)), positive if the foot lies on the panel's side of the edge
        const [fx, fy, fz] = [x - from.xM, y - from.yM, z - from.zM]
        const reach = nx * (ey * fz - ez * fy) + ny * (ez * fx - ex * fz) + nz * (ex * fy - ey * fx)
        for (let g = 0; g < edgeRule.nodes.length; g++) {
          const t = (1 + (edgeRule.nodes[g] as number)) / 2
          const distance = Math.hypot(fx - t * ex, fy - t * ey, fz - t * ez)
          // (e^{−jkh} − e^{−jkR})/(jk ρ²) = e^{−jk(R+h)/2} sinc(k(R−h)/2)/(R + h)
          const half = (wavenumber * (distance - height)) / 2
          const sinc = Math.abs(half) < 1e-6 ? 1 : Math.sin(half) / half
          const phase = (wavenumber * (distance + height)) / 2
          const factor = ((((edgeRule.weights[g] as number) / 2) * reach) / (distance + height)) * sinc
          re += factor * Math.cos(phase)
          im -= factor * Math.sin(phase)
        }
      })
      // times jωρ v / 4π
      const strength = (omegaRho * velocityMps) / (4 * Math.PI)
      out[0] = (out[0] as number) - strength * im
      out[1] = (out[1] as number) + strength * re
    })
  }
}
