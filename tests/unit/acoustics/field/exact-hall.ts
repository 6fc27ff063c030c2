import type { Complex } from '../../../../src/acoustics/complex.ts'
import type { Point } from '../../../../src/acoustics/index.ts'
import type { PlainHall } from './plain-images.ts'
import { plainAdmittance } from './plain-wall.ts'

const plus = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im })
const minus = (a: Complex, b: Complex): Complex => ({ re: a.re - b.re, im: a.im - b.im })
const times = (a: Complex, b: Complex): Complex => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re })
const over = (a: Complex, b: Complex): Complex => {
  const square = b.re * b.re + b.im * b.im
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square }
}
const exp = ({ re, im }: Complex): Complex => ({ re: Math.exp(re) * Math.cos(im), im: Math.exp(re) * Math.sin(im) })
const real = (re: number): Complex => ({ re, im: 0 })
/** The root with a positive real part. */
const root = (a: Complex): Complex => {
  const size = Math.hypot(a.re, a.im)
  const re = Math.sqrt(Math.max(0, (size + a.re) / 2))
  return { re, im: Math.sign(a.im) * Math.sqrt(Math.max(0, (size - a.re) / 2)) }
}

/**
 * The exact field of a point source in a box-shaped hall with locally reacting walls that take no more than about a half: p of a source that alone
 * would give e^{−jkr}/r. Standing waves across and up, found by repeating q = √(jkB q cot qL/L − β₁β₂k²), and along the hall the closed form of a wave
 * between two walls. Shares nothing with src.
 *
 * Source: Morse & Ingard, Theoretical Acoustics, section 9.4; Kuttruff, Room Acoustics, section 3.3.
 */
export function exactHall(
  { widthM, heightM, lengthM, alphas }: PlainHall,
  source: Point,
  listener: Point,
  k: number,
  airLossPerM: number,
): Complex {
  const [across, up, down] = alphas.map((pair) => pair.map(plainAdmittance)) as [number[], number[], number[]]
  const xs = products(widthM, across, k, source.xM + widthM / 2, listener.xM + widthM / 2)
  const ys = products(heightM, up, k, source.yM, listener.yM)
  const whole = times({ re: k, im: -airLossPerM }, { re: k, im: -airLossPerM })
  const [near, far] = [Math.min(source.zM, listener.zM), Math.max(source.zM, listener.zM)]
  const total = { re: 0, im: 0 }
  for (const x of xs) {
    for (const y of ys) {
      let kz = root(minus(minus(whole, x.square), y.square))
      if (kz.im > 0) kz = { re: -kz.re, im: -kz.im }
      const wave = (way: number) => exp({ re: kz.im * way, im: -kz.re * way })
      const back = (b: number) => over(minus(kz, real(b * k)), plus(kz, real(b * k)))
      const [low, high] = [back(down[0] as number), back(down[1] as number)]
      const first = plus(real(1), times(low, wave(2 * near)))
      const last = plus(real(1), times(high, wave(2 * (lengthM - far))))
      const round = minus(real(1), times(times(low, high), wave(2 * lengthM)))
      const along = over(times(times(wave(far - near), first), last), times(round, { re: -2 * kz.im, im: 2 * kz.re }))
      const part = times(along, times(x.value, y.value))
      total.re += 4 * Math.PI * part.re
      total.im += 4 * Math.PI * part.im
    }
  }
  return total
}

/** ψ(source) ψ(listener)/∫ψ² of each standing wave between two walls, and q². */
function products(sideM: number, [b1 = 0, b2 = 0]: number[], k: number, s: number, u: number) {
  const most = Math.ceil((sideM * (k + 8)) / Math.PI)
  const [low, high] = [b1 * k, b2 * k]
  return Array.from({ length: most + 1 }, (_, n) => {
    let q: Complex = n === 0 ? root({ re: 0, im: (low + high) / sideM }) : { re: (n * Math.PI) / sideM, im: 0 }
    for (let round = 0; round < 200 && low + high > 0; round++) {
      if (n === 0) {
        const x = times(q, real(sideM))
        const [e, d] = [exp({ re: -x.im, im: x.re }), exp({ re: x.im, im: -x.re })]
        const cot = times({ re: 0, im: 1 }, over(plus(e, d), minus(e, d)))
        q = root(minus(times({ re: 0, im: (low + high) / sideM }, times(x, cot)), real(low * high)))
      } else {
        // 2jqL = 2jnπ + ln R₁R₂
        const factor = times(
          over(minus(q, real(low)), plus(q, real(low))),
          over(minus(q, real(high)), plus(q, real(high))),
        )
        const ln = { re: Math.log(Math.hypot(factor.re, factor.im)), im: Math.atan2(factor.im, factor.re) }
        q = { re: (n * Math.PI + ln.im / 2) / sideM, im: -ln.re / 2 / sideM }
      }
    }
    const turned = low === 0 ? real(1) : over(minus(q, real(low)), plus(q, real(low)))
    const shape = (at: number) =>
      plus(exp({ re: -q.im * at, im: q.re * at }), times(turned, exp({ re: q.im * at, im: -q.re * at })))
    // ∫ψ² by Simpson's rule
    const steps = 16 + 4 * n
    let norm = { re: 0, im: 0 }
    for (let i = 0; i <= 2 * steps; i++) {
      const weight = (i === 0 || i === 2 * steps ? 1 : i % 2 === 1 ? 4 : 2) * (sideM / (6 * steps))
      const value = shape((i * sideM) / (2 * steps))
      norm = plus(norm, times(real(weight), times(value, value)))
    }
    return { value: over(times(shape(s), shape(u)), norm), square: times(q, q) }
  })
}
