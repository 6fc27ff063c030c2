import { type Complex, divide, multiply } from '../complex.ts'
import type { Axis } from './hall-axes.ts'

/**
 * One standing wave between two walls at a driving wavenumber k: ψ(u) = e^{jqu} + a e^{−jqu}, u from the low wall, with
 *
 *   R₁R₂ e^{−2jqL} = 1,  a = R₁,  R = (q − βk)/(q + βk),  norm = ∫ψ² du = a (2L + j d ln(R₁R₂)/dq)
 *
 * `evenLossPerM` is what walls take evenly at all angles, a loss of amplitude per metre along the axis.
 */
export type AxisMode = { q: Complex; turned: Complex; norm: Complex; evenLossPerM: number }

/** What walls that let nothing back are taken to leave: by then nothing is left of what has met them. */
const leastEven = 0.01

/** Corrections after which Newton's method must stand, and the change at which it does. */
const mostCorrections = 40
const settled = 1e-12

/** Share of the way to the walls' admittance that one step goes, for a wave that hardly meets them: those of low order go in many. */
const easyShare = 0.3
const steps = 24

/**
 * The standing waves along an axis whose wavenumber is at most `highest`, in the order of how often they swing. From hard walls, where qL = nπ,
 * the admittance grows in steps and each wave is followed.
 *
 * @param axis     see axesOf
 * @param k        driving wavenumber, rad/m, above 0: a locally reacting wall knows no other
 * @param highest  rad/m
 * Source: Kuttruff, Room Acoustics, section 3.3 (rectangular room with locally reacting walls); Morse & Ingard, Theoretical Acoustics, section 9.4.
 */
export function axisModes({ lengthM, low, high }: Axis, k: number, highest: number): AxisMode[] {
  const [b1, b2] = [low.admittance * k * lengthM, high.admittance * k * lengthM]
  const even = Math.max(leastEven, low.even) * Math.max(leastEven, high.even)
  const evenLossPerM = -Math.log(even) / (2 * lengthM)
  const modes: AxisMode[] = []
  for (let n = 0; (n * Math.PI) / lengthM <= highest; n++) {
    modes.push({ ...shapeOf(followed(n, b1, b2), b1, b2, lengthM), evenLossPerM })
  }
  return modes
}

/** qL of the wave of an order. */
function followed(n: number, b1: number, b2: number): Complex {
  if (b1 + b2 === 0) return { re: n * Math.PI, im: 0 }
  const count = n > 0 && (b1 + b2) / (n * Math.PI) < easyShare ? 1 : steps
  let x: Complex = { re: n * Math.PI, im: 0 }
  for (let step = 1; step <= count; step++) {
    // The first steps are small: the wave of order 0 moves with the root of the admittance.
    const t = (step / count) ** 2
    if (n === 0 && step === 1) {
      const size = Math.sqrt(t * (b1 + b2))
      x = { re: size * Math.SQRT1_2, im: size * Math.SQRT1_2 }
    }
    x = corrected(x, t * b1, t * b2)
  }
  return x
}

/** Newton's method on (x² + b₁b₂) sin x/x − j(b₁ + b₂) cos x, which has no root at 0 of its own. */
function corrected(start: Complex, b1: number, b2: number): Complex {
  let x = start
  const sum = b1 + b2
  for (let round = 0; round < mostCorrections; round++) {
    const [sinRe, sinIm] = [Math.sin(x.re) * Math.cosh(x.im), Math.cos(x.re) * Math.sinh(x.im)]
    const [cosRe, cosIm] = [Math.cos(x.re) * Math.cosh(x.im), -Math.sin(x.re) * Math.sinh(x.im)]
    const ratio = divide({ re: sinRe, im: sinIm }, x)
    const slope = divide({ re: cosRe - ratio.re, im: cosIm - ratio.im }, x)
    const square = multiply(x, x)
    const weight = { re: square.re + b1 * b2, im: square.im }
    const first = multiply(weight, ratio)
    const value = { re: first.re + sum * cosIm, im: first.im - sum * cosRe }
    const along = multiply(x, ratio)
    const across = multiply(weight, slope)
    const derivative = { re: 2 * along.re + across.re - sum * sinIm, im: 2 * along.im + across.im + sum * sinRe }
    const change = divide(value, derivative)
    x = { re: x.re - change.re, im: x.im - change.im }
    if (Math.hypot(change.re, change.im) < settled * (1 + Math.hypot(x.re, x.im))) break
  }
  return x
}

/** (x − b)/(x + b), and its part of the slope d ln(R₁R₂)/dx: 2b/(x² − b²). */
function turning(x: Complex, b: number): { factor: Complex; slope: Complex } {
  if (b === 0) return { factor: { re: 1, im: 0 }, slope: { re: 0, im: 0 } }
  const above = { re: x.re + b, im: x.im }
  const below = { re: x.re - b, im: x.im }
  return { factor: divide(below, above), slope: divide({ re: 2 * b, im: 0 }, multiply(below, above)) }
}

/** Shape and norm from qL. */
function shapeOf(x: Complex, b1: number, b2: number, lengthM: number): Omit<AxisMode, 'evenLossPerM'> {
  const q = { re: x.re / lengthM, im: x.im / lengthM }
  const [low, high] = [turning(x, b1), turning(x, b2)]
  // Between hard walls the even pressure has both its waves in one.
  if (x.re === 0 && x.im === 0) return { q, turned: low.factor, norm: { re: 4 * lengthM, im: 0 } }
  const slope = { re: low.slope.re + high.slope.re, im: low.slope.im + high.slope.im }
  const norm = multiply(low.factor, { re: lengthM * (2 - slope.im), im: lengthM * slope.re })
  return { q, turned: low.factor, norm }
}

/** e^{jqu} and a e^{−jqu} at a place along the axis. */
export function modeWaves({ q, turned }: AxisMode, { fromM }: Axis, placeM: number): [Complex, Complex] {
  const u = placeM - fromM
  const phase = q.re * u
  const [grow, fall] = [Math.exp(q.im * u), Math.exp(-q.im * u)]
  const toward = { re: fall * Math.cos(phase), im: fall * Math.sin(phase) }
  return [toward, multiply(turned, { re: grow * Math.cos(phase), im: -grow * Math.sin(phase) })]
}
