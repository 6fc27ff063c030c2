import type { Complex, Point } from '../../../src/acoustics/index.ts'
import { c } from './route.ts'

// What grass sends back of a source, exactly: the mirror image and a line of images that goes on from it into imaginary heights,
// each a little weaker (Di and Gilbert 1993; Ochmann, J. Acoust. Soc. Am. 116 (2004), 3304). Time factor e^{−jωt} inside.

const times = (a: Complex, b: Complex): Complex => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re })
const root = ({ re, im }: Complex): Complex => {
  const size = Math.sqrt(Math.hypot(re, im))
  const half = Math.atan2(im, re) / 2
  return { re: size * Math.cos(half), im: size * Math.sin(half) }
}
const over = (a: Complex, b: Complex): Complex => {
  const norm = b.re * b.re + b.im * b.im
  return times(a, { re: b.re / norm, im: -b.im / norm })
}

/** e^{jkR}/R of a complex way. */
const wave = (k: number, way: Complex): Complex => {
  const size = Math.exp(-k * way.im)
  return over({ re: size * Math.cos(k * way.re), im: size * Math.sin(k * way.re) }, way)
}

/** Impedance of grass of 200 kPa·s/m² over that of air, by Delany and Bazley. */
function admittance(hz: number): Complex {
  const x = hz / 200
  return over({ re: 1, im: 0 }, { re: 1 + 9.08 / x ** 0.75, im: 11.9 / x ** 0.73 })
}

/** What multiplies the mirror image, between a source and the listener's place under the ground, for e^{+jωt}. */
export function grassFactor(hz: number, source: Point, mirrored: Point): Complex {
  const k = (2 * Math.PI * hz) / c
  const beta = admittance(hz)
  const along = Math.hypot(source.xM - mirrored.xM, source.zM - mirrored.zM)
  const up = Math.abs(source.yM - mirrored.yM)
  const image = wave(k, { re: Math.hypot(along, up), im: 0 })
  // Midpoints, thirty to a radian of the fastest turn; after the way along the ground it falls by e^{−kt}.
  const end = along + 30 / k
  const steps = Math.ceil(30 * k * end)
  const step = end / steps
  let [re, im] = [0, 0]
  for (let i = 0; i < steps; i++) {
    const t = (i + 0.5) * step
    const way = root({ re: along * along + up * up - t * t, im: 2 * up * t })
    const weaker = Math.exp(-k * beta.re * t)
    const turn = -k * beta.im * t
    const part = times({ re: weaker * Math.cos(turn), im: weaker * Math.sin(turn) }, wave(k, way))
    re += part.re * step
    im += part.im * step
  }
  const more = over(times({ re: -2 * k * beta.re, im: -2 * k * beta.im }, { re, im }), image)
  return { re: 1 + more.re, im: -more.im }
}
