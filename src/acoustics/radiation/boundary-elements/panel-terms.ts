import type { BoxSolution } from './box-solution.ts'
import { sortPanelParities } from './mirror-planes.ts'
import type { RegularWaves } from './regular-waves.ts'

/** Numbers of an expansion, at index n² + n + m. */
export type Terms = { re: Float64Array; im: Float64Array }

/** ∫ p ∂(j_n Y_nm)/∂n dS of each surface; all have the same mesh and mirror planes. */
export function panelTerms(
  waves: RegularWaves,
  mesh: BoxSolution['problem']['mesh'],
  surfaces: readonly BoxSolution['surface'][],
): Terms[] {
  const { fineNodes, fineWeightsM2, normals, count } = mesh
  const perPanel = fineWeightsM2.length / count
  const terms = (waves.order + 1) ** 2
  const images = surfaces[0]?.images ?? []
  // Each harmonic keeps or turns its sign at each mirror, so over a panel's images it takes one parity of the pressure.
  const parities = harmonicParities(waves.order, images)
  const pressures = surfaces.map((surface) => {
    const sorted = { re: Float64Array.from(surface.re), im: Float64Array.from(surface.im) }
    sortPanelParities(sorted.re, images.length)
    sortPanelParities(sorted.im, images.length)
    return sorted
  })
  const made = surfaces.map((): Terms => ({ re: new Float64Array(terms), im: new Float64Array(terms) }))
  const slopes = new Float64Array(terms)
  for (let j = 0; j < count; j++) {
    slopes.fill(0)
    for (let q = perPanel * j; q < perPanel * (j + 1); q++) {
      waves.set(
        fineNodes[3 * q] as number,
        fineNodes[3 * q + 1] as number,
        fineNodes[3 * q + 2] as number,
        normals[3 * j] as number,
        normals[3 * j + 1] as number,
        normals[3 * j + 2] as number,
      )
      const weight = fineWeightsM2[q] as number
      for (let t = 0; t < terms; t++) slopes[t] = (slopes[t] as number) + weight * (waves.slope[t] as number)
    }
    for (let set = 0; set < made.length; set++) {
      const { re, im } = made[set] as Terms
      const pressure = pressures[set] as Terms
      for (let t = 0; t < terms; t++) {
        const at = (parities[t] as number) * count + j
        re[t] = (re[t] as number) + (pressure.re[at] as number) * (slopes[t] as number)
        im[t] = (im[t] as number) + (pressure.im[at] as number) * (slopes[t] as number)
      }
    }
  }
  return made
}

/**
 * Which parity (see sortParities) each harmonic has: cos mφ turns with x for odd m, sin mφ with y and, for even m, with x;
 * n + m odd turns with z.
 */
function harmonicParities(order: number, images: readonly [number, number, number][]): Uint8Array {
  const parities = new Uint8Array((order + 1) ** 2)
  for (let n = 0; n <= order; n++) {
    for (let m = -n; m <= n; m++) {
      const odd = m % 2 !== 0
      const turnsX = m >= 0 ? odd : !odd
      const turnsY = m < 0
      const turnsZ = (n + m) % 2 !== 0
      // Images 1, 2, 4 … are the single mirrors; their bits make the parity.
      for (let bit = 1; bit < images.length; bit *= 2) {
        const [sx, sy, sz] = images[bit] as [number, number, number]
        if ((sx < 0 && turnsX) || (sy < 0 && turnsY) || (sz < 0 && turnsZ)) {
          parities[n * n + n + m] = (parities[n * n + n + m] as number) | bit
        }
      }
    }
  }
  return parities
}
