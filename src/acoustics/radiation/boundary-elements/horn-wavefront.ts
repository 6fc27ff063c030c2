import type { HornMouth } from '../cabinet.ts'
import type { MovingRectangle } from './rectangle-potential.ts'

/** A virtual apex is kept at least this share of the mouth's half size behind it (coverage of 174°), so that the mouth stays a mouth. */
const nearestApexShare = 0.05

/** A virtual apex farther than this many half sizes away gives a flat wavefront. */
const farthestApexShare = 1e7

/**
 * Normal velocity on the flat mouth of a horn: that of the wave which spreads from two virtual apexes behind it, one for
 * each coverage angle,
 *
 *   apex distances  a_h = (w/2)/tan(h/2),  a_v = (height/2)/tan(v/2);   with a₁ ≤ a₂ of them and x₁, x₂ the coordinate of each:
 *   ρ = √(x₁² + a₁²),  R = √((ρ + a₂ − a₁)² + x₂²),  cos ψ = (ρ + a₂ − a₁)/R,  cos φ = a₁/ρ
 *   v ∝ √(cos ψ/(R ρ)) cos ψ cos φ · e^{−jk(R − a₂)}
 *
 * The wavefronts are rings (tori); for a₁ = a₂ they are spheres about one apex and v is exactly that of a point source
 * there. The amplitude spreads sound evenly within the angles; velocity 1 and phase 0 stand at the mouth's centre.
 *
 * @param mouth       coverage angles above 0 to π rad (174° at most is drawn), sizes in m
 * @param wavenumber  k, rad/m, 0 or more
 * @returns           MovingRectangle, not normalised
 * Source: geometrical acoustics (eikonal of a torus), derived by hand; common practice for how a horn's mouth moves.
 */
export function hornWavefront(mouth: HornMouth, wavenumber: number): MovingRectangle {
  const halfWidthM = mouth.mouthWidthM / 2
  const halfHeightM = mouth.mouthHeightM / 2
  const apexBehindM = (halfM: number, coverageRad: number): number =>
    halfM * Math.min(farthestApexShare, Math.max(nearestApexShare, 1 / Math.tan(coverageRad / 2)))
  const horizontalM = apexBehindM(halfWidthM, mouth.horizontalCoverageRad)
  const verticalM = apexBehindM(halfHeightM, mouth.verticalCoverageRad)
  const horizontalNearer = horizontalM <= verticalM
  const near = Math.min(horizontalM, verticalM)
  const far = Math.max(horizontalM, verticalM)
  return {
    halfWidthM,
    halfHeightM,
    shortestScaleM: near,
    phaseSlopeRadPerM:
      wavenumber *
      Math.max(halfWidthM / Math.hypot(halfWidthM, horizontalM), halfHeightM / Math.hypot(halfHeightM, verticalM)),
    velocityAt(u, v, out) {
      const first = horizontalNearer ? u : v
      const second = horizontalNearer ? v : u
      const rho = Math.sqrt(first * first + near * near)
      // ρ − a₁ and R − a₂ without cancellation
      const gain = (first * first) / (rho + near)
      const height = far + gain
      const R = Math.sqrt(height * height + second * second)
      const path = (2 * far * gain + gain * gain + second * second) / (R + far)
      // √(cos ψ a₂/R cos φ) cos ψ cos φ
      out[0] = (Math.sqrt((height * far * near) / rho) * height * near) / (R * R * rho)
      out[1] = wavenumber * path
    },
  }
}
