import { type Complex, divide, multiply } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import type { HornMouth } from './cabinet.ts'
import { frequencyRange } from './radiation-input.ts'

/** Gauss rule on every piece of a half mouth. */
const nodesPerPiece = 16

/** Phase that one piece may span, rad: 16 nodes then integrate the wave to 1e-13. */
const phasePerPieceRad = 12

/** Least number of pieces, so that the amplitude of the widest coverage is smooth on each. */
const fewestPieces = 8

/**
 * Far-field pattern of a rectangular horn mouth in an infinite rigid baffle, complex, re the forward axis.
 *
 * In each plane the mouth moves as a wave from a virtual apex a = (d/2)/tan(θ/2) behind it, which straight walls of the
 * coverage angle θ would meet in, so with ρ = √(a² + x²) its normal velocity is
 *
 *   u(x) = (a/ρ)^{3/2} e^{−jk(ρ − a)}:  √(a/ρ) spreads a cylindrical wave, a/ρ is the part of it along the axis
 *
 * and the pattern is the product of both planes' apertures,
 *
 *   p(h, v)/p(0, 0) = H(k sin h cos v) V(k sin v) / (H(0) V(0)),  H(κ) = (1/w) ∫ u_h(x) e^{jκx} dx over the width
 *
 * Limits: a flat wavefront gives the product of two sin u/u; for a mouth of many wavelengths the level is even within
 * the coverage angle and half the pressure (−6.02 dB) at its edge.
 *
 * @param mouth        width and height 0.001 … 100 m, coverage angles 0 (a flat wavefront in that plane) … 2.8 rad (160°)
 * @param frequencyHz  1e-6 … 1e6 Hz, with the larger side at most 10 000 wavelengths
 * @param air          the medium
 * @returns            a function of h, v (rad, −π/2 … π/2 each), the direction being (sin h cos v, sin v, cos h cos v);
 *                     dimensionless, phase re the middle of the mouth
 * @throws RangeError  for arguments outside these ranges
 * Source: Rayleigh integral over a baffled aperture (Kinsler, Frey, Coppens & Sanders, 4th ed., section 7.4); wavefront by
 *         geometrical acoustics, derived by hand. Left out: sound that turns back at the rim, and the box behind it.
 * Accuracy: 1e-12 of the pressure on the axis of a flat mouth of the same size.
 */
export function hornMouthPattern(
  mouth: HornMouth,
  frequencyHz: number,
  air: Air,
): (horizontalRad: number, verticalRad: number) => Complex {
  const size = { min: 0.001, max: 100, unit: 'm' }
  const coverage = { min: 0, max: 2.8, unit: 'rad' }
  requireInRange('mouthWidthM', mouth.mouthWidthM, size)
  requireInRange('mouthHeightM', mouth.mouthHeightM, size)
  requireInRange('horizontalCoverageRad', mouth.horizontalCoverageRad, coverage)
  requireInRange('verticalCoverageRad', mouth.verticalCoverageRad, coverage)
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const mostWavelengths = (Math.max(mouth.mouthWidthM, mouth.mouthHeightM) * wavenumber) / (2 * Math.PI)
  requireInRange('larger side of the mouth over the wavelength', mostWavelengths, { max: 1e4 })
  const across = apertureTransform(mouth.mouthWidthM, mouth.horizontalCoverageRad, wavenumber)
  const upright = apertureTransform(mouth.mouthHeightM, mouth.verticalCoverageRad, wavenumber)
  const onAxis = multiply(across(0), upright(0))
  const angle = { min: -Math.PI / 2, max: Math.PI / 2, unit: 'rad' }
  return (horizontalRad, verticalRad) => {
    requireInRange('horizontalRad', horizontalRad, angle)
    requireInRange('verticalRad', verticalRad, angle)
    const sideways = across(Math.sin(horizontalRad) * Math.cos(verticalRad))
    return divide(multiply(sideways, upright(Math.sin(verticalRad))), onAxis)
  }
}

/** H of one plane as a function of the direction's sine. The aperture is even, so half of it and a cosine do. */
function apertureTransform(sizeM: number, coverageRad: number, wavenumber: number): (sine: number) => Complex {
  const halfM = sizeM / 2
  const sinHalf = Math.sin(coverageRad / 2)
  const phaseRad = wavenumber * halfM * (1 + sinHalf)
  const pieces = Math.max(fewestPieces, Math.ceil(phaseRad / phasePerPieceRad))
  const { nodes, weights } = gaussLegendre(nodesPerPiece)
  const place = new Float64Array(pieces * nodesPerPiece)
  const re = new Float64Array(place.length)
  const im = new Float64Array(place.length)
  const slope = Math.tan(coverageRad / 2) / halfM
  for (let i = 0; i < place.length; i++) {
    const piece = Math.floor(i / nodesPerPiece)
    const node = i % nodesPerPiece
    const share = (piece + (1 + (nodes[node] as number)) / 2) / pieces
    const x = share * halfM
    // ρ/a, and ρ − a without the cancellation that a far apex brings; both hold for a flat wavefront, where slope = 0.
    const stretch = Math.hypot(1, x * slope)
    const pathM = (x * x * slope) / (stretch + 1)
    const amplitude = ((weights[node] as number) / (2 * pieces)) * stretch ** -1.5
    place[i] = wavenumber * x
    re[i] = amplitude * Math.cos(wavenumber * pathM)
    im[i] = -amplitude * Math.sin(wavenumber * pathM)
  }
  return (sine) => {
    let sumRe = 0
    let sumIm = 0
    for (let i = 0; i < place.length; i++) {
      const swing = Math.cos((place[i] as number) * sine)
      sumRe += (re[i] as number) * swing
      sumIm += (im[i] as number) * swing
    }
    return { re: sumRe, im: sumIm }
  }
}
