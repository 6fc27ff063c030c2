import type { Complex } from '../complex.ts'
import type { Air } from '../medium/air.ts'
import { type HarmonicRecurrence, harmonicRecurrence } from '../radiation/boundary-elements/harmonic-recurrence.ts'
import { neededOrder } from '../radiation/order-strengths.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { type PlacedSource, toSourcePoint } from './placed-source.ts'
import { driveOf } from './pressure-from.ts'

/**
 * What a placed source sends beyond its neighbourhood, in the room's axes about its position:
 *
 *   p = (e^{−jkr}/r) Σ c_nm q_n(kr) Y_nm,   q_0 = 1,  q_1 = 1 − j/kr,  q_{n+1} = q_{n−1} − j (2n + 1)/(kr) q_n
 *
 * c_nm in Pa·m at index n² + n + m; the harmonics are real and orthonormal, with sin |m|φ for negative m. Gain, polarity and
 * delay are taken in.
 */
export type OutgoingFit = { order: number; wavenumber: number; re: Float64Array; im: Float64Array }

/** A source with the waves that stand for it from some distance on. */
export type FittedSource = { source: PlacedSource; fit: OutgoingFit }

/** Highest order fitted; a source of reach a needs about ka + 3. */
export const highestFitOrder = 10

/** Orders at the end that carry together less than this share of the power are dropped. */
const droppedShare = 1e-5

/** Where the source is sampled, m: beyond any cabinet, and well outside the reach of high orders. */
const sampledAtM = 20

/** Fits by radiation, then by wavenumber and yaw: what a source sends far away is the same wherever it stands and whatever feeds it. */
const known = new WeakMap<Radiation, Map<string, OutgoingFit>>()

/**
 * Fits outgoing waves to a source at one frequency.
 *
 * @param source       its radiation must tell the pressure 20 m away in all directions; a radiation that is given again is not sampled again
 * @param frequencyHz  above 0
 * @param air          the medium; gives the wavenumber
 * @returns            as many orders as carry all but a hundred-thousandth of the power, at most 10
 * Accuracy: sources that reach no farther from their origin than 5/k; farther ones lose their finest detail.
 */
export function fitOutgoing(source: PlacedSource, frequencyHz: number, air: Air): OutgoingFit {
  const radiation = source.radiation(frequencyHz)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const key = `${wavenumber} ${source.yawRad}`
  const fits = known.get(radiation) ?? new Map<string, OutgoingFit>()
  known.set(radiation, fits)
  const fit = fits.get(key) ?? fitUndriven(radiation, source.yawRad, wavenumber)
  fits.set(key, fit)
  const drive = driveOf(source, frequencyHz)
  return {
    ...fit,
    re: fit.re.map((value, t) => value * drive.re - (fit.im[t] as number) * drive.im),
    im: fit.im.map((value, t) => value * drive.re + (fit.re[t] as number) * drive.im),
  }
}

/** The fit of a radiation turned by a yaw, under no drive. */
function fitUndriven(radiation: Radiation, yawRad: number, wavenumber: number): OutgoingFit {
  const terms = (highestFitOrder + 1) ** 2
  const re = new Float64Array(terms)
  const im = new Float64Array(terms)
  const harmonics = new Float64Array(terms)
  const turned = { position: { xM: 0, yM: 0, zM: 0 }, yawRad }
  for (const { x, y, z, weight } of sampledDirections) {
    const at = { xM: sampledAtM * x, yM: sampledAtM * y, zM: sampledAtM * z }
    const pressure = radiation.pressureAt(toSourcePoint(turned, at))
    fillHarmonics(highestFitOrder, x, y, z, harmonics)
    for (let t = 0; t < terms; t++) {
      re[t] = (re[t] as number) + weight * (harmonics[t] as number) * pressure.re
      im[t] = (im[t] as number) + weight * (harmonics[t] as number) * pressure.im
    }
  }
  // Take out r e^{jkr}/q_n(kr) there.
  const phase = wavenumber * sampledAtM
  const outward = { re: sampledAtM * Math.cos(phase), im: sampledAtM * Math.sin(phase) }
  const near = nearFactors(phase, highestFitOrder)
  const powers = new Float64Array(highestFitOrder + 1)
  for (let n = 0; n <= highestFitOrder; n++) {
    const { re: qRe, im: qIm } = near[n] as Complex
    const norm = qRe * qRe + qIm * qIm
    const fRe = (outward.re * qRe + outward.im * qIm) / norm
    const fIm = (outward.im * qRe - outward.re * qIm) / norm
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const [a, b] = [re[t] as number, im[t] as number]
      re[t] = a * fRe - b * fIm
      im[t] = a * fIm + b * fRe
      powers[n] = (powers[n] as number) + (re[t] as number) ** 2 + (im[t] as number) ** 2
    }
  }
  const order = neededOrder(powers, droppedShare, 0)
  const kept = (order + 1) ** 2
  return { order, wavenumber, re: re.slice(0, kept), im: im.slice(0, kept) }
}

/** q_0 … q_order at kr. */
function nearFactors(kr: number, order: number): Complex[] {
  const q: Complex[] = [{ re: 1, im: 0 }]
  for (let n = 0; n < order; n++) {
    const own = q[n] as Complex
    const before = q[n - 1] ?? { re: 1, im: 0 }
    const f = n === 0 ? 1 / kr : (2 * n + 1) / kr
    q.push({ re: before.re + f * own.im, im: before.im - f * own.re })
  }
  return q
}

const recurrence: HarmonicRecurrence = harmonicRecurrence(highestFitOrder)

/** Writes Y_nm of a unit direction to `out`, n = 0 … order, at n² + n + m. */
export function fillHarmonics(order: number, x: number, y: number, z: number, out: Float64Array): void {
  const { up, back, start } = recurrence
  const sinT = Math.sqrt(x * x + y * y)
  const cosP = sinT > 0 ? x / sinT : 1
  const sinP = sinT > 0 ? y / sinT : 0
  let cosM = 1
  let sinM = 0
  let first = 1 / Math.sqrt(4 * Math.PI)
  for (let m = 0; m <= order; m++) {
    let before = 0
    let p = first
    for (let n = m; n <= order; n++) {
      const at = n * n + n
      out[at + m] = p * cosM
      if (m > 0) out[at - m] = p * sinM
      const f = m * (highestFitOrder + 1) + n
      const next = (up[f] as number) * (z * p - (back[f] as number) * before)
      before = p
      p = next
    }
    first *= (start[m] as number) * sinT
    const turned = cosM * cosP - sinM * sinP
    sinM = sinM * cosP + cosM * sinP
    cosM = turned
  }
}

const harmonics = new Float64Array((highestFitOrder + 1) ** 2)

/** Adds `weight` times the pressure at the distance r, m, in the direction (x, y, z) to a sum. */
export function addFittedWave(
  { order, wavenumber, re, im }: OutgoingFit,
  x: number,
  y: number,
  z: number,
  r: number,
  weight: number,
  sum: Complex,
): void {
  fillHarmonics(order, x, y, z, harmonics)
  const kr = wavenumber * r
  let [beforeRe, beforeIm, qRe, qIm] = [0, 0, 1, 0]
  let aRe = 0
  let aIm = 0
  for (let n = 0; n <= order; n++) {
    let sRe = 0
    let sIm = 0
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const harmonic = harmonics[t] as number
      sRe += harmonic * (re[t] as number)
      sIm += harmonic * (im[t] as number)
    }
    aRe += sRe * qRe - sIm * qIm
    aIm += sRe * qIm + sIm * qRe
    const f = (2 * n + 1) / kr
    // For n = 0 the term before is q_{−1} = q_0.
    const nextRe = (n === 0 ? 1 : beforeRe) + f * qIm
    const nextIm = (n === 0 ? 0 : beforeIm) - f * qRe
    beforeRe = qRe
    beforeIm = qIm
    qRe = nextRe
    qIm = nextIm
  }
  const c = (weight * Math.cos(kr)) / r
  const s = (-weight * Math.sin(kr)) / r
  sum.re += aRe * c - aIm * s
  sum.im += aRe * s + aIm * c
}

/** A rule over all directions that is exact for products of harmonics up to the highest order. */
const sampledDirections = (() => {
  const { nodes, weights } = gaussLegendre(highestFitOrder + 1)
  const round = 2 * highestFitOrder + 2
  return Array.from(nodes).flatMap((cos, i) =>
    Array.from({ length: round }, (_, m) => {
      const sin = Math.sqrt(1 - cos * cos)
      const roundRad = (2 * Math.PI * m) / round
      return {
        x: sin * Math.cos(roundRad),
        y: sin * Math.sin(roundRad),
        z: cos,
        weight: ((weights[i] as number) * 2 * Math.PI) / round,
      }
    }),
  )
})()
