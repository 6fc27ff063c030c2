import { gaussLegendre } from '../../special/gauss-legendre.ts'
import { setPhasor } from '../../special/phasors.ts'

const rule = gaussLegendre(10)
const phasor = new Float64Array(2)

/** Greatest phase, rad, that one stretch of the rim may span under a ten-point rule. */
const phasePerStretchRad = 10

/** Stretches of the rim grow by this factor away from the point. */
const stretchGrowth = 3

/** Where the point is nearer to the rim than this share of the radius, the kink there no longer matters. */
const finestStretch = 1e-5

/**
 * Potential of a flat disc that moves evenly, at a point anywhere, as an integral along the disc's rim:
 *
 *   ∫ e^{−jkR}/(4πR) dS = (1/4π) ∮ a (a − ρ₀ cos θ)/(R + h) · e^{−jk(R + h)/2} · sinc(k(R − h)/2) dθ,
 *   R² = a² + ρ₀² − 2aρ₀ cos θ + h²
 *
 * It comes from polar coordinates about the point's foot on the plane, where e^{−jkR}/R · ρ dρ = e^{−jkR} dR has a closed
 * form; nothing is singular, on the disc either.
 *
 * @param radiusM     a, m, above 0
 * @param wavenumber  k, rad/m, 0 or more
 * @param offsetM     ρ₀, distance of the point from the disc's axis, m, 0 or more
 * @param heightM     h, distance of the point from the disc's plane, m, 0 or more
 * @param out         receives the real and the imaginary part, m
 * Source: derived by hand; the same step is in G. R. Harris, J. Acoust. Soc. Am. 70 (1981) 10–20, a review of pistons.
 * Accuracy: relative error below 1e-6; within a thousandth of the radius from the rim 1e-4.
 */
export function discPotential(
  radiusM: number,
  wavenumber: number,
  offsetM: number,
  heightM: number,
  out: Float64Array,
): void {
  const { nodes, weights } = rule
  const a = radiusM
  const k = wavenumber
  const widest = Math.min(Math.PI, phasePerStretchRad / Math.max(1e-9, k * a))
  const nearest = Math.max(Math.sqrt((offsetM - a) ** 2 + heightM ** 2) / a, finestStretch)
  let re = 0
  let im = 0
  let from = 0
  let reach = nearest
  while (from < Math.PI) {
    const to = Math.min(Math.PI, from + Math.min(widest, reach))
    const half = (to - from) / 2
    for (let i = 0; i < nodes.length; i++) {
      setPhasor((from + half * (1 + (nodes[i] as number))) / 2, phasor)
      // ρ₀ (1 − cos θ), without cancellation near the rim
      const bent = 2 * offsetM * (phasor[1] as number) ** 2
      const distance = Math.sqrt((a - offsetM) ** 2 + 2 * a * bent + heightM * heightM)
      const halfPath = (k * (distance - heightM)) / 2
      setPhasor(halfPath, phasor)
      const sinc = halfPath < 1e-6 ? 1 : (phasor[1] as number) / halfPath
      const factor = ((weights[i] as number) * half * a * (a - offsetM + bent) * sinc) / (distance + heightM)
      re += factor * (phasor[0] as number)
      im -= factor * (phasor[1] as number)
    }
    from = to
    reach = (stretchGrowth - 1) * from
  }
  // e^{−jk(R + h)/2} is e^{−jk(R − h)/2} e^{−jkh}; the two halves of the rim are alike.
  setPhasor(k * heightM, phasor)
  const [c, s] = [phasor[0] as number, phasor[1] as number]
  out[0] = (re * c + im * s) / (2 * Math.PI)
  out[1] = (im * c - re * s) / (2 * Math.PI)
}
