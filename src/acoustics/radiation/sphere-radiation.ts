import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { legendrePolynomials } from '../special/legendre.ts'
import { sphericalHankelLogDerivatives, sphericalHankelRatios } from '../special/spherical-hankel.ts'
import { requireDirection } from './far-field-direction.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'

/** A sphere about the origin whose surface moves evenly round the z axis. */
export type MovingSphere = {
  radiusM: number
  /**
   * Legendre coefficients U_0 … U_N of the radial velocity, for unit net volume velocity on a unit sphere (so U_0 is
   * 1/4π); see capVelocityCoefficients.
   */
  velocityCoefficients(maxOrder: number): Float64Array
}

/** Radiation of a sphere, with its complex far field. */
export type SphereRadiation = Radiation & {
  /** lim p · r · e^{jkr} for r → ∞, Pa·m, in the direction whose angle from +z has this cosine (−1 … 1). */
  farField(cosAngle: number): Complex
}

/** Orders kept beyond the far field's for points near the sphere, and those of them before the fade-out. */
const nearFieldOrders = 800
const unfadedOrders = 400

/** ln 10⁹: the near-field series stops where its terms have fallen by this much. */
const nearFieldDecades = 20.7

/** Relative distance inside the sphere that still counts as its surface. */
const surfaceSlack = 1e-9

/**
 * A sphere in free space whose radial surface velocity is Σ U_n P_n(cos θ) / R², unit net volume velocity:
 *
 *   p(r, θ) = Σ A_n h_n⁽²⁾(kr) P_n(cos θ),   A_n = −jρc (U_n/R²) / h_n⁽²⁾′(kR)
 *
 * evaluated as  p = Σ B_n g_n(r) P_n(cos θ)  with  B_n = A_n h_n(kR) = −jρc (U_n/R²) / L_n(kR)  and
 * g_n = h_n(kr)/h_n(kR) = g_{n−1} ρ_n(kr)/ρ_n(kR), so that nothing over- or underflows however small or large kR is.
 *
 * @param sphere       radiusM 1e-6 … 100 m and the velocity
 * @param frequencyHz  1e-6 … 1e6 Hz, with kR at most 1000
 * @param air          the medium
 * @returns            Radiation about the sphere's centre; pressureAt throws RangeError inside the sphere
 * @throws RangeError  for arguments outside these ranges
 * Source: Morse, Vibration and Sound, 2nd ed., section 28; Morse & Ingard, section 7.2.
 * Accuracy: relative error about 1e-8 from 3 % of the radius away from the surface outward. Nearer, the series has to be
 *         cut, because for a velocity that jumps its terms fall on the surface only like 1/n²; it is faded out from
 *         400 to 800 orders above the far field's. On the surface that leaves 1e-5 of the pressure on the cap, and
 *         within 1° of the jump 0.06 dB.
 */
export function sphereRadiation(sphere: MovingSphere, frequencyHz: number, air: Air): SphereRadiation {
  const radiusM = requireInRange('radiusM', sphere.radiusM, { min: 1e-6, max: 100, unit: 'm' })
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const kR = requireInRange('kR (wavenumber × radiusM)', wavenumber * radiusM, { above: 0, max: 1000 })
  const rhoC = air.densityKgM3 * air.speedOfSoundMps
  const farOrders = Math.ceil(kR + 7 * Math.cbrt(kR) + 14)
  const maxOrders = farOrders + nearFieldOrders

  let row = sphereCoefficients(sphere, kR, rhoC, farOrders, farOrders)

  const pressureAt = (point: Point): Complex => {
    const { xM, yM, zM } = point
    const distanceM = Math.sqrt(xM * xM + yM * yM + zM * zM)
    if (!(distanceM >= radiusM * (1 - surfaceSlack) && distanceM < Infinity)) {
      requireInRange('distance from the centre of the sphere', distanceM, { min: radiusM, unit: 'm' })
    }
    const r = Math.max(distanceM, radiusM)
    const kr = wavenumber * r
    let orders = farOrders
    // In the far field the terms die by themselves once n > kR; near the sphere they fall only like (R/r)^n.
    if (kr < farOrders) orders += Math.ceil(Math.min(nearFieldOrders, nearFieldDecades / Math.log(r / radiusM)))
    if (orders > row.orders) row = sphereCoefficients(sphere, kR, rhoC, farOrders, Math.min(maxOrders, 2 * orders))

    const { inverseRatioRe, inverseRatioIm } = row
    const pressureRe = orders < maxOrders ? row.pressureRe : row.fadedRe
    const pressureIm = orders < maxOrders ? row.pressureIm : row.fadedIm
    const cosAngle = distanceM > 0 ? Math.max(-1, Math.min(1, zM / distanceM)) : 1
    const inverse = 1 / kr
    const startPhaseRad = kr - kR
    // g_0 = (R/r) e^{−jk(r − R)}; gRe, gIm hold g_n, a and b hold ρ_n(kr)
    let gRe = (radiusM / r) * Math.cos(startPhaseRad)
    let gIm = -(radiusM / r) * Math.sin(startPhaseRad)
    let a = inverse
    let b = 1
    let before = 1
    let current = cosAngle
    let re = (pressureRe[0] as number) * gRe - (pressureIm[0] as number) * gIm
    let im = (pressureRe[0] as number) * gIm + (pressureIm[0] as number) * gRe
    for (let n = 1; n <= orders; n++) {
      const sRe = inverseRatioRe[n] as number
      const sIm = inverseRatioIm[n] as number
      const qRe = a * sRe - b * sIm
      const qIm = a * sIm + b * sRe
      const tRe = gRe * qRe - gIm * qIm
      gIm = gRe * qIm + gIm * qRe
      gRe = tRe
      const cRe = (pressureRe[n] as number) * current
      const cIm = (pressureIm[n] as number) * current
      re += cRe * gRe - cIm * gIm
      im += cRe * gIm + cIm * gRe
      const norm = 1 / (a * a + b * b)
      const twice = 2 * n + 1
      a = twice * inverse - a * norm
      b *= norm
      const next = (twice * cosAngle * current - n * before) / (n + 1)
      before = current
      current = next
    }
    return { re, im }
  }

  const farField = (cosAngle: number): Complex => {
    const p = legendrePolynomials(farOrders, Math.max(-1, Math.min(1, cosAngle)))
    let re = 0
    let im = 0
    for (let n = 0; n <= farOrders; n++) {
      re += (row.farRe[n] as number) * (p[n] as number)
      im += (row.farIm[n] as number) * (p[n] as number)
    }
    return { re, im }
  }

  const onAxis = farField(1)
  const onAxisSquared = onAxis.re * onAxis.re + onAxis.im * onAxis.im
  // ∮ |far|² dΩ = 4π Σ |F_n|² / (2n + 1)
  let meanSquare = 0
  for (let n = 0; n <= farOrders; n++) {
    meanSquare += ((row.farRe[n] as number) ** 2 + (row.farIm[n] as number) ** 2) / (2 * n + 1)
  }
  return {
    frequencyHz,
    pressureAt,
    powerW: (2 * Math.PI * meanSquare) / rhoC,
    directivityIndexDb: 10 * Math.log10(onAxisSquared / meanSquare),
    farFieldDb(horizontalRad, verticalRad) {
      requireDirection(horizontalRad, verticalRad)
      const far = farField(Math.cos(horizontalRad) * Math.cos(verticalRad))
      return 10 * Math.log10((far.re * far.re + far.im * far.im) / onAxisSquared)
    },
    farField,
  }
}

/** 1 up to x = 0, 0 from x = 1, three continuous derivatives: a sharp cut would ring all over the surface. */
function fadeOut(x: number): number {
  if (x <= 0) return 1
  if (x >= 1) return 0
  return 1 - x ** 4 * (35 - 84 * x + 70 * x * x - 20 * x ** 3)
}

type SphereRow = {
  orders: number
  /** B_n, Pa: the share of order n in the pressure on the surface. */
  pressureRe: Float64Array
  pressureIm: Float64Array
  /** B_n with the highest orders faded out, for places so near that the series has to be cut. */
  fadedRe: Float64Array
  fadedIm: Float64Array
  /** 1/ρ_n(kR). */
  inverseRatioRe: Float64Array
  inverseRatioIm: Float64Array
  /** F_n, Pa·m: the share of order n in lim p r e^{jkr}. */
  farRe: Float64Array
  farIm: Float64Array
}

function sphereCoefficients(
  sphere: MovingSphere,
  kR: number,
  rhoC: number,
  farOrders: number,
  orders: number,
): SphereRow {
  const velocity = sphere.velocityCoefficients(orders)
  const ratios = sphericalHankelRatios(kR, orders)
  const slopes = sphericalHankelLogDerivatives(ratios, kR)
  const row: SphereRow = {
    orders,
    pressureRe: new Float64Array(orders + 1),
    pressureIm: new Float64Array(orders + 1),
    fadedRe: new Float64Array(orders + 1),
    fadedIm: new Float64Array(orders + 1),
    inverseRatioRe: new Float64Array(orders + 1),
    inverseRatioIm: new Float64Array(orders + 1),
    farRe: new Float64Array(orders + 1),
    farIm: new Float64Array(orders + 1),
  }
  const scale = rhoC / (sphere.radiusM * sphere.radiusM)
  // h_n(kr)/h_n(kR) → (R/r) e^{−jk(r − R)} j^n ∏ 1/ρ_m(kR); `reach` is that without e^{−jkr}/r
  let reachRe = sphere.radiusM * Math.cos(kR)
  let reachIm = sphere.radiusM * Math.sin(kR)
  for (let n = 0; n <= orders; n++) {
    const lRe = slopes.re[n] as number
    const lIm = slopes.im[n] as number
    const lNorm = lRe * lRe + lIm * lIm
    const u = scale * (velocity[n] as number)
    // −j u / L
    const bRe = (-u * lIm) / lNorm
    const bIm = (-u * lRe) / lNorm
    row.pressureRe[n] = bRe
    row.pressureIm[n] = bIm
    const fade = fadeOut((n - farOrders - unfadedOrders) / (nearFieldOrders - unfadedOrders))
    row.fadedRe[n] = fade * bRe
    row.fadedIm[n] = fade * bIm
    const a = ratios.re[n] as number
    const b = ratios.im[n] as number
    const norm = a * a + b * b
    row.inverseRatioRe[n] = a / norm
    row.inverseRatioIm[n] = -b / norm
    if (n > 0) {
      // times j / ρ_n = (b + j a)/|ρ_n|²
      const re = (reachRe * b - reachIm * a) / norm
      reachIm = (reachRe * a + reachIm * b) / norm
      reachRe = re
    }
    row.farRe[n] = bRe * reachRe - bIm * reachIm
    row.farIm[n] = bRe * reachIm + bIm * reachRe
  }
  return row
}
