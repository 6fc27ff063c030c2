import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { farFieldDirection } from './far-field-direction.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'

/**
 * A column: equal drivers in step, one above the other at even distances, in the front of a long round hard body.
 * Origin: the front of the body half way up the row; z forward, y up along the row. The body's axis is at z = −columnRadiusM.
 */
export type DriverLine = {
  /** Number of drivers, 1 … 64. */
  count: number
  /** From the middle of one driver to the middle of the next, above 0 … 10 m. */
  spacingM: number
  /** Radius of a driver, above 0 … columnRadiusM, and at most half the spacing. */
  driverRadiusM: number
  /** Radius of the body, 0.001 … 10 m; for a box see equalGirthRadiusM. */
  columnRadiusM: number
}

/** What a line of drivers radiates. Power and directivity index are left out: an endless body has them only per driver. */
export type LineRadiation = Pick<Radiation, 'frequencyHz' | 'pressureAt' | 'farFieldDb'>

/**
 * Array factor of N equal sources in step on a straight line: what their paths alone make of the sum, re broadside.
 *
 *   sin(Nψ/2) / (N sin(ψ/2)),  ψ = (2π d / λ) sin θ
 *
 * In no figure: the textbook's row of points, which the row of drivers is held against, and what the words say of a row alone.
 *
 * @param count                  N, a whole number from 1 to 1000
 * @param spacingM               d, 0 … 1000 m
 * @param frequencyHz            1e-6 … 1e6 Hz
 * @param angleFromBroadsideRad  θ, −π/2 … π/2
 * @param air                    the medium
 * @returns                      −1 … 1, dimensionless, signed; 1 at broadside, ±1 in the direction of every further beam
 * @throws RangeError            for arguments outside these ranges
 * Source: Kinsler, Frey, Coppens & Sanders, Fundamentals of Acoustics, 4th ed., chapter 7, the linear array. For many
 *         sources close together it becomes the uniform line of length N d.
 */
export function lineArrayFactor(
  count: number,
  spacingM: number,
  frequencyHz: number,
  angleFromBroadsideRad: number,
  air: Air,
): number {
  requireInRange('count', count, { min: 1, max: 1000, integer: true })
  requireInRange('spacingM', spacingM, { min: 0, max: 1000, unit: 'm' })
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireInRange('angleFromBroadsideRad', angleFromBroadsideRad, { min: -Math.PI / 2, max: Math.PI / 2, unit: 'rad' })
  requireAir(air)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  return periodicSinc(count, wavenumber * spacingM * Math.sin(angleFromBroadsideRad))
}

/**
 * Directions of the further beams of a row whose drivers are too far apart (grating lobes): where neighbours are a whole number
 * of wavelengths out, so that all add again:  sin θ = m λ / d,  m = 1, 2, …
 *
 * A row in step has none in full as long as its spacing is below a wavelength, though its flank comes in at the sides from
 * (1 − 1/N) of a wavelength on. (A row steered by delay to an angle θ₀ has none
 * as long as it is below λ / (1 + |sin θ₀|); rows in step have θ₀ = 0.)
 *
 * @param spacingM     d, 0 … 1000 m
 * @param frequencyHz  1e-6 … 1e6 Hz
 * @param air          the medium
 * @returns            angles from broadside, rad, rising, above 0 to π/2; each is there to the other side as well
 * @throws RangeError  for arguments outside these ranges
 * Source: as lineArrayFactor.
 */
export function furtherBeamsRad(spacingM: number, frequencyHz: number, air: Air): number[] {
  requireInRange('spacingM', spacingM, { min: 0, max: 1000, unit: 'm' })
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const wavelengths = (spacingM * frequencyHz) / air.speedOfSoundMps
  return Array.from({ length: Math.floor(wavelengths) }, (_, index) => Math.asin((index + 1) / wavelengths))
}

/**
 * Radius of the round body with the girth of a box: (width + depth) / π, m.
 * The girth is the way that a wave takes round the box; that it stands for the box is our choice.
 *
 * @throws RangeError for a side outside 0.001 … 10 m
 */
export function equalGirthRadiusM(widthM: number, depthM: number): number {
  const side = { min: 0.001, max: 10, unit: 'm' }
  return (requireInRange('widthM', widthM, side) + requireInRange('depthM', depthM, side)) / Math.PI
}

/**
 * Far field of a column at one frequency, and its pressure at places that are far for a driver but may be near for the row:
 *
 *   p = (jωρ / 4πN) Σ_i D(φ, β_i) e^{−jkR_i} / S_i
 *
 * R_i is the distance from the axis of the body at driver i's height, φ the direction round the axis (0 in front) and
 * β_i the angle up or down. The spreading S_i is counted from a radius a in front of the face, because that is where a
 * small source on a long cylinder seems to be at low frequencies: there D is 1 + 2jka cos φ cos β, a point source
 * 2a in front of the axis. D is the exact far-field pattern of one driver on an endless rigid cylinder of radius a, re a
 * point source; the driver is the square of equal area bent round the cylinder, half-side b:
 *
 *   D(φ, β) = (2/jπ) sinc(kb sin β) Σ_n ε_n jⁿ sinc(n b/a) cos nφ / (x H_n⁽²⁾′(x)),  x = ka cos β,  ε_0 = 1, else 2
 *
 * What this leaves out: the ends of the box, its edges, and what a driver does very near (from 1 m on the spreading is good to
 * about 0.3 dB). A real column is shorter than endless: what it sends straight behind is then a decibel or so more.
 *
 * @param line         see DriverLine
 * @param frequencyHz  1e-6 … 1e6 Hz, with ka at most 200
 * @param air          the medium
 * @param options      tabulated: D is read from a table of 1° or finer (error below 0.05 dB of the pattern's maximum):
 *                     for pictures of many places
 * @returns            per unit total volume velocity; pressureAt throws RangeError inside the body
 * @throws RangeError  for arguments outside these ranges
 * Source: D. T. Laird, H. Cohen, Directionality patterns for acoustic radiation from a source on a rigid cylinder,
 *         J. Acoust. Soc. Am. 24 (1952) 46–49; Morse, Vibration and Sound, 2nd ed., section 26 (in the plane across the axis).
 */
export function driverLine(
  line: DriverLine,
  frequencyHz: number,
  air: Air,
  options: { tabulated?: boolean } = {},
): LineRadiation {
  const { count, spacingM, columnRadiusM } = checkDriverLine(line)
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const ka = requireInRange('ka (wavenumber × columnRadiusM)', wavenumber * columnRadiusM, { max: 200 })
  const exactAt = driverOnCylinder(ka, (Math.sqrt(Math.PI) / 2) * (line.driverRadiusM / columnRadiusM))
  const pattern: Pattern = options.tabulated ? tabulate(exactAt, ka) : (roundRad, upRad) => exactAt(upRad)(roundRad)
  const strength = (2 * Math.PI * frequencyHz * air.densityKgM3) / (4 * Math.PI * count)

  return {
    frequencyHz,
    pressureAt({ xM, yM, zM }: Point) {
      const forwardM = zM + columnRadiusM
      const outM = Math.hypot(xM, forwardM)
      requireInRange('distance from the axis of the column', outM, { min: columnRadiusM * (1 - 1e-9), unit: 'm' })
      requireInRange('point.yM', yM, { unit: 'm' })
      const roundRad = Math.abs(Math.atan2(xM, forwardM))
      // At the seeming place of the source itself there is no level; the front of the body is as near as S may be.
      const aheadM = Math.max(Math.hypot(xM, zM - columnRadiusM), columnRadiusM)
      let re = 0
      let im = 0
      for (let driver = 0; driver < count; driver++) {
        const upM = yM - (driver - (count - 1) / 2) * spacingM
        const distanceM = Math.hypot(outM, upM)
        const d = pattern(roundRad, Math.atan2(Math.abs(upM), outM))
        // j e^{−jkR} / S
        const phaseRad = wavenumber * distanceM
        const spreadM = Math.hypot(aheadM, upM)
        const waveRe = Math.sin(phaseRad) / spreadM
        const waveIm = Math.cos(phaseRad) / spreadM
        re += d.re * waveRe - d.im * waveIm
        im += d.re * waveIm + d.im * waveRe
      }
      return { re: strength * re, im: strength * im }
    },
    farFieldDb(horizontalRad, verticalRad) {
      const [sx, sy, sz] = farFieldDirection(horizontalRad, verticalRad)
      const one = pattern(Math.abs(Math.atan2(sx, sz)), Math.atan2(Math.abs(sy), Math.hypot(sx, sz)))
      const axis = pattern(0, 0)
      const factor = periodicSinc(count, wavenumber * spacingM * sy)
      const ratio = Math.hypot(one.re, one.im) / Math.hypot(axis.re, axis.im)
      return 20 * Math.log10(Math.max(Math.abs(factor) * ratio, Number.MIN_VALUE))
    },
  }
}

/**
 * Checks a line and returns it unchanged.
 *
 * @throws RangeError naming the argument, its value and what is allowed
 */
export function checkDriverLine(line: DriverLine): DriverLine {
  requireInRange('count', line.count, { min: 1, max: 64, integer: true })
  requireInRange('spacingM', line.spacingM, { above: 0, max: 10, unit: 'm' })
  requireInRange('columnRadiusM', line.columnRadiusM, { min: 0.001, max: 10, unit: 'm' })
  const half = line.count > 1 ? line.spacingM / 2 : Number.POSITIVE_INFINITY
  requireInRange('driverRadiusM', line.driverRadiusM, { above: 0, max: Math.min(half, line.columnRadiusM), unit: 'm' })
  return line
}

/** sin(Nψ/2) / (N sin(ψ/2)), with its limits ±1 where both vanish. */
function periodicSinc(count: number, psiRad: number): number {
  const half = psiRad / 2
  const below = Math.sin(half)
  if (Math.abs(below) > 1e-7) return Math.sin(count * half) / (count * below)
  return Math.round(half / Math.PI) % 2 !== 0 && count % 2 === 0 ? -1 : 1
}

const sinc = (x: number): number => (Math.abs(x) < 1e-8 ? 1 : Math.sin(x) / x)

/** D(φ, β) for φ in 0 … π and β in 0 … π/2. */
type Pattern = (roundRad: number, upRad: number) => Complex

/** The pattern of one driver, half as wide as halfSideRad as seen from the axis: for one height all that is common to every φ is done once. */
function driverOnCylinder(ka: number, halfSideRad: number): (upRad: number) => (roundRad: number) => Complex {
  return (upRad) => {
    // Straight up x is 0 and D has a limit, which is reached long before this floor.
    const x = Math.max(ka * Math.cos(upRad), 1e-4)
    const orders = Math.ceil(x + 7 * Math.cbrt(x) + 10)
    const { re, im } = hankelSlopes(x, orders)
    const height = sinc(ka * halfSideRad * Math.sin(upRad))
    for (let n = 0; n <= orders; n++) {
      const [hRe, hIm] = [re[n] as number, im[n] as number]
      const size = ((n === 0 ? 1 : 2) * (2 / Math.PI) * height * sinc(n * halfSideRad)) / (x * (hRe * hRe + hIm * hIm))
      // jⁿ⁻¹ conj(H′)
      const [aRe, aIm] = [-size * hIm, -size * hRe]
      re[n] = [aRe, -aIm, -aRe, aIm][n % 4] as number
      im[n] = [aIm, aRe, -aIm, -aRe][n % 4] as number
    }
    return (roundRad) => {
      // cos nφ by its recurrence
      const step = 2 * Math.cos(roundRad)
      let before = Math.cos(roundRad)
      let current = 1
      let [sumRe, sumIm] = [0, 0]
      for (let n = 0; n <= orders; n++) {
        sumRe += (re[n] as number) * current
        sumIm += (im[n] as number) * current
        const next = step * current - before
        before = current
        current = next
      }
      return { re: sumRe, im: sumIm }
    }
  }
}

/**
 * Derivatives  H_n⁽²⁾′(x)  of the Hankel functions of whole order, n = 0 … N, for x from 1e-4 to 200.
 *
 * J_n by the recurrence downward from an order far above x, scaled with 1 = J_0 + 2 Σ J_2k; Y_0 and Y_0′ by Neumann's series
 * in J_n; Y_n by the recurrence upward, which is stable for it. Own code because the kept library of Bessel functions
 * has J₁ alone, and a column needs some thirty orders at each of many thousand arguments.
 *
 * Source: DLMF 10.6.1, 10.6.2, 10.12.4, 10.23(iii), 10.74(iv).
 * Accuracy: relative error below 1e-11.
 */
export function hankelSlopes(x: number, maxOrder: number): { re: Float64Array; im: Float64Array } {
  requireInRange('x', x, { min: 1e-4, max: 200 })
  requireInRange('maxOrder', maxOrder, { min: 0, max: 400, integer: true })
  const start = 2 * Math.ceil((Math.max(x + 7 * Math.cbrt(x), maxOrder) + 16) / 2)
  const j = new Float64Array(start + 2)
  j[start] = 1e-280
  let sum = 0
  for (let n = start; n > 0; n--) {
    j[n - 1] = ((2 * n) / x) * (j[n] as number) - (j[n + 1] as number)
    if (Math.abs(j[n - 1] as number) > 1e200) {
      for (let m = n - 1; m <= start; m++) j[m] = (j[m] as number) * 1e-300
      sum *= 1e-300
    }
    if (n % 2 === 1) sum += (n === 1 ? 1 : 2) * (j[n - 1] as number)
  }
  for (let n = 0; n <= start; n++) j[n] = (j[n] as number) / sum

  const logTerm = Math.log(x / 2) + 0.5772156649015329 // Euler's constant
  let y0 = 0
  let y0Slope = 0
  for (let k = 1; 2 * k <= start; k++) {
    const sign = k % 2 === 0 ? 1 : -1
    y0 += (sign * (j[2 * k] as number)) / k
    y0Slope += (sign * ((j[2 * k - 1] as number) - (j[2 * k + 1] as number))) / (2 * k)
  }
  const j0 = j[0] as number
  const j1 = j[1] as number
  y0 = (2 / Math.PI) * logTerm * j0 - (4 / Math.PI) * y0
  y0Slope = (2 / Math.PI) * (j0 / x - logTerm * j1) - (4 / Math.PI) * y0Slope

  const re = new Float64Array(maxOrder + 1)
  const im = new Float64Array(maxOrder + 1)
  re[0] = -j1
  im[0] = -y0Slope
  let before = y0
  let current = -y0Slope
  for (let n = 1; n <= maxOrder; n++) {
    // C_n′ = C_{n−1} − (n/x) C_n, and H⁽²⁾ = J − jY
    re[n] = (j[n - 1] as number) - (n / x) * (j[n] as number)
    im[n] = -(before - (n / x) * current)
    const next = ((2 * n) / x) * current - before
    before = current
    current = next
  }
  return { re, im }
}

/** A pattern read off a table with straight lines between its points, which lie 1° apart or closer. */
function tabulate(exactAt: (upRad: number) => (roundRad: number) => Complex, ka: number): Pattern {
  const upSteps = Math.max(90, Math.ceil(8 * ka))
  const roundSteps = 2 * upSteps
  const width = roundSteps + 1
  const re = new Float64Array((upSteps + 1) * width)
  const im = new Float64Array((upSteps + 1) * width)
  for (let up = 0; up <= upSteps; up++) {
    const exact = exactAt((Math.PI / 2) * (up / upSteps))
    for (let round = 0; round <= roundSteps; round++) {
      const d = exact((Math.PI * round) / roundSteps)
      re[up * width + round] = d.re
      im[up * width + round] = d.im
    }
  }
  return (roundRad, upRad) => {
    const u = (upRad / (Math.PI / 2)) * upSteps
    const v = (roundRad / Math.PI) * roundSteps
    const i = Math.min(upSteps - 1, Math.floor(u))
    const k = Math.min(roundSteps - 1, Math.floor(v))
    const [p, q] = [u - i, v - k]
    const at = i * width + k
    const [w00, w01, w10, w11] = [(1 - p) * (1 - q), (1 - p) * q, p * (1 - q), p * q]
    const mix = (row: Float64Array) =>
      w00 * (row[at] as number) +
      w01 * (row[at + 1] as number) +
      w10 * (row[at + width] as number) +
      w11 * (row[at + width + 1] as number)
    return { re: mix(re), im: mix(im) }
  }
}
