import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { type ComplexRow, sphericalHankelRatios } from '../special/spherical-hankel.ts'
import { type HarmonicRecurrence, harmonicRecurrence } from './boundary-elements/harmonic-recurrence.ts'
import { farFieldDirection } from './far-field-direction.ts'
import { sumHarmonics } from './harmonic-sum.ts'
import { orderStrengths } from './order-strengths.ts'
import type { OutgoingExpansion } from './outgoing-expansion.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'

/** Terms at a place that together stay below this share of the rest are not summed. */
const negligibleShare = 3e-5

/**
 * Radiation from an outgoing expansion, without solving anything.
 *
 * Inside the enclosing sphere, where the expansion does not hold, the pressure at the sphere's nearest point is given
 * instead; a solved cabinet (solveCabinet) uses its surface there.
 *
 * @param data  an OutgoingExpansion: frequencyHz 1e-6 … 1e6 Hz, radiusM above 0, order 0 … 1000 with (order + 1)² numbers
 *              in re and in im
 * @param air   the air that it was made with
 * @returns     Radiation; power, directivity index and far field in closed form from the coefficients
 * @throws RangeError for data that do not fit
 * Source: far field  F = Σ b_nm (j^{n+1}/k h_n(kR)) Y_nm, DLMF 10.52.4; power ∮|F|² dΩ/2ρc by orthonormality.
 */
export function expansionRadiation(data: OutgoingExpansion, air: Air): Radiation {
  requireAir(air)
  return radiationOf(checkExpansion(data), air)
}

/** The same from an expansion that fits and that nobody else changes. */
export function radiationOf(expansion: CheckedExpansion, air: Air): Radiation {
  const { frequencyHz, order } = expansion
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const rhoC = air.densityKgM3 * air.speedOfSoundMps
  const ratios = sphericalHankelRatios(wavenumber * expansion.radiusM, order)
  const recurrence = harmonicRecurrence(order)
  let known: ReturnType<typeof farAmplitudes> | undefined
  /** Most callers ask for places alone. */
  const far = () => {
    known ??= farAmplitudes(expansion, wavenumber, ratios)
    return known
  }

  const out = new Float64Array(2)
  const ones = new Float64Array(order + 1).fill(1)
  const zeros = new Float64Array(order + 1)
  const farSquared = (x: number, y: number, z: number): number => {
    const { re, im } = far()
    sumHarmonics(recurrence, order, order, 1, x, y, z, re, im, ones, zeros, out)
    return (out[0] as number) ** 2 + (out[1] as number) ** 2
  }
  let axisSquared: number | undefined
  const onAxisSquared = () => {
    axisSquared ??= farSquared(0, 0, 1)
    return axisSquared
  }
  const pressureAt = pressureOf(expansion, wavenumber, ratios, recurrence)
  return {
    frequencyHz,
    pressureAt: ({ xM, yM, zM }) => pressureAt(xM, yM, zM),
    get powerW() {
      return far().square / (2 * rhoC)
    },
    get directivityIndexDb() {
      return 10 * Math.log10((4 * Math.PI * onAxisSquared()) / far().square)
    },
    farFieldDb(horizontalRad, verticalRad) {
      const direction = farFieldDirection(horizontalRad, verticalRad)
      if (onAxisSquared() === 0) {
        throw new RangeError(
          'the source is silent on the forward axis; levels re that axis are allowed only with sound',
        )
      }
      return 10 * Math.log10(farSquared(...direction) / onAxisSquared())
    },
  }
}

/** An expansion whose numbers are all there and finite, in arrays of its own. */
export type CheckedExpansion = OutgoingExpansion & { re: Float64Array; im: Float64Array }

function checkExpansion(data: OutgoingExpansion): CheckedExpansion {
  requireInRange('data.frequencyHz', data.frequencyHz, frequencyRange)
  requireInRange('data.centreZM', data.centreZM, { unit: 'm' })
  requireInRange('data.radiusM', data.radiusM, { above: 0, unit: 'm' })
  requireInRange('data.order', data.order, { min: 0, max: 1000, integer: true })
  const terms = (data.order + 1) ** 2
  requireInRange('data.re.length', data.re.length, { min: terms, max: terms })
  requireInRange('data.im.length', data.im.length, { min: terms, max: terms })
  const { frequencyHz, centreZM, radiusM, order } = data
  const re = Float64Array.from(data.re)
  const im = Float64Array.from(data.im)
  if (!re.every(Number.isFinite) || !im.every(Number.isFinite)) {
    throw new RangeError('data.re or data.im holds a number that is not finite; allowed are finite numbers')
  }
  return { frequencyHz, centreZM, radiusM, order, re, im }
}

/** Far amplitudes, Pa·m, at the index of the expansion's own numbers, and the sum of their squares. */
function farAmplitudes(
  { order, radiusM, re, im }: CheckedExpansion,
  wavenumber: number,
  ratios: ComplexRow,
): { re: Float64Array; im: Float64Array; square: number } {
  const X = wavenumber * radiusM
  const farRe = new Float64Array(re.length)
  const farIm = new Float64Array(re.length)
  // Order n takes (R e^{jX}) j^n ∏ 1/ρ_m(X): one factor j/ρ_n = (ρ_im + jρ_re)/|ρ|² more than the one before
  let fRe = radiusM * Math.cos(X)
  let fIm = radiusM * Math.sin(X)
  let square = 0
  for (let n = 0; n <= order; n++) {
    if (n > 0) {
      const a = ratios.re[n] as number
      const b = ratios.im[n] as number
      const norm = a * a + b * b
      const next = (fRe * b - fIm * a) / norm
      fIm = (fRe * a + fIm * b) / norm
      fRe = next
    }
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const bRe = re[t] as number
      const bIm = im[t] as number
      farRe[t] = bRe * fRe - bIm * fIm
      farIm[t] = bRe * fIm + bIm * fRe
      square += (farRe[t] as number) ** 2 + (farIm[t] as number) ** 2
    }
  }
  return { re: farRe, im: farIm, square }
}

/** The pressure at places in the source's own coordinates; as many orders are summed as matter there. */
function pressureOf(
  { order, radiusM, centreZM, re, im }: CheckedExpansion,
  wavenumber: number,
  ratios: ComplexRow,
  recurrence: HarmonicRecurrence,
): (xM: number, yM: number, zM: number) => Complex {
  /** Strength of an order and all beyond it. */
  const rest = new Float64Array(order + 2)
  const strengths = orderStrengths(re, im, order)
  for (let n = order; n >= 0; n--) rest[n] = (rest[n + 1] as number) + (strengths[n] as number)
  const gRe = new Float64Array(order + 1)
  const gIm = new Float64Array(order + 1)
  const out = new Float64Array(2)

  return (xM, yM, zM) => {
    const z = zM - centreZM
    const distanceM = Math.sqrt(xM * xM + yM * yM + z * z)
    requireInRange('distance of point from the source', distanceM, { min: 0, max: 1e9, unit: 'm' })
    const r = Math.max(distanceM, radiusM)
    const inverse = 1 / (wavenumber * r)
    // g_n = h_n(kr)/h_n(kR); ρ_n(kr) = a + jb
    let a = 0
    let b = 1
    let top = order
    const phase = wavenumber * (r - radiusM)
    gRe[0] = (radiusM / r) * Math.cos(phase)
    gIm[0] = (-radiusM / r) * Math.sin(phase)
    const floor = (negligibleShare * radiusM) / r
    for (let n = 1; n <= order; n++) {
      const norm = a * a + b * b
      a = (2 * n - 1) * inverse - a / norm
      b /= norm
      const sRe = ratios.re[n] as number
      const sIm = ratios.im[n] as number
      const s = sRe * sRe + sIm * sIm
      const qRe = (a * sRe + b * sIm) / s
      const qIm = (b * sRe - a * sIm) / s
      const pRe = gRe[n - 1] as number
      const pIm = gIm[n - 1] as number
      gRe[n] = pRe * qRe - pIm * qIm
      gIm[n] = pRe * qIm + pIm * qRe
      const size = (gRe[n] as number) ** 2 + (gIm[n] as number) ** 2
      if (size * (rest[n] as number) < floor * floor * (rest[0] as number)) {
        top = n - 1
        break
      }
    }
    sumHarmonics(recurrence, order, top, distanceM, xM, yM, z, re, im, gRe, gIm, out)
    return { re: out[0] as number, im: out[1] as number }
  }
}
