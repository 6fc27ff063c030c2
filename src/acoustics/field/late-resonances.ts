import { type Complex, divide, multiply } from '../complex.ts'
import { makeRoom } from '../make-room.ts'
import type { Point } from '../point.ts'
import { type AxisMode, axisModes, modeWaves } from './axis-modes.ts'
import type { Axis } from './hall-axes.ts'
import type { HandOver } from './hand-over.ts'
import { termsByParity } from './harmonic-parity.ts'
import { lateIntegral, spanNodes } from './late-integral.ts'
import { type FittedSource, fillHarmonics, highestFitOrder } from './outgoing-fit.ts'

/** Resonances farther than this from the frequency, times the width of the hand-over, do not count: beyond its spectrum. */
const widestDetuning = 22

/**
 * Strengths of all resonances: columns that share the order along x and z, and in each its orders along y, from `from[column]` on. Packed, because a
 * plan keeps hundreds of them for every box and line.
 */
type Strengths = {
  x: Uint16Array
  z: Uint16Array
  from: Uint32Array
  y: Uint16Array
  re: Float64Array
  im: Float64Array
}

type Axes = readonly [Axis, Axis, Axis]
type AxesModes = readonly [AxisMode[], AxisMode[], AxisMode[]]

/** One resonance of the hall: its orders, and what it answers to a drive of 1. */
type Resonance = { x: number; y: number; z: number; K: Complex; answer: Complex }

/** The late images of all sources, summed as resonances (see hallField). */
export function lateResonances(
  sources: readonly FittedSource[],
  axes: Axes,
  k: number,
  airLossPerM: number,
  span: HandOver,
): (listener: Point) => Complex {
  const { modes, resonances } = knownResonances(axes, k, airLossPerM, span)
  const [xModes, yModes, zModes] = modes
  const { x, z, from, y, re, im } = strengthsOf(sources, axes, modes, resonances)
  const columnRe = new Float64Array(x.length)
  const columnIm = new Float64Array(x.length)
  const foldAt = (yM: number) => {
    const shapes = shapesAt(yModes, axes[1], yM)
    for (let column = 0; column < x.length; column++) {
      let [sumRe, sumIm] = [0, 0]
      for (let t = from[column] as number; t < (from[column + 1] as number); t++) {
        const shape = shapes[y[t] as number] as Complex
        sumRe += (re[t] as number) * shape.re - (im[t] as number) * shape.im
        sumIm += (re[t] as number) * shape.im + (im[t] as number) * shape.re
      }
      columnRe[column] = sumRe
      columnIm[column] = sumIm
    }
  }
  let atYM = Number.NaN
  return ({ xM, yM, zM }) => {
    // A plan has one height: what the heights add up to is kept from place to place.
    if (yM !== atYM) foldAt(yM)
    atYM = yM
    const xShapes = shapesAt(xModes, axes[0], xM)
    const zShapes = shapesAt(zModes, axes[2], zM)
    const sum = { re: 0, im: 0 }
    for (let column = 0; column < x.length; column++) {
      const a = xShapes[x[column] as number] as Complex
      const b = zShapes[z[column] as number] as Complex
      const sRe = a.re * b.re - a.im * b.im
      const sIm = a.re * b.im + a.im * b.re
      sum.re += (columnRe[column] as number) * sRe - (columnIm[column] as number) * sIm
      sum.im += (columnRe[column] as number) * sIm + (columnIm[column] as number) * sRe
    }
    return sum
  }
}

const shapesAt = (modes: readonly AxisMode[], axis: Axis, placeM: number): Complex[] =>
  modes.map((mode) => {
    const [there, back] = modeWaves(mode, axis, placeM)
    return { re: there.re + back.re, im: there.im + back.im }
  })

/** Resonances by hall, frequency and loss: they are the same wherever the sources stand. */
const known = new Map<string, { modes: AxesModes; resonances: Resonance[] }>()
const mostKnown = 400

function knownResonances(axes: Axes, k: number, airLossPerM: number, span: HandOver) {
  const key = JSON.stringify([axes, k, airLossPerM, span])
  let found = known.get(key)
  if (!found) {
    const reach = widestDetuning / (span.toM - span.fromM)
    const modes = axes.map((axis) => axisModes(axis, k, k + reach)) as [AxisMode[], AxisMode[], AxisMode[]]
    found = { modes, resonances: resonancesNear(k, reach, modes, airLossPerM, span) }
    makeRoom(known, mostKnown)
    known.set(key, found)
  }
  return found
}

/** All resonances within reach of the wavenumber k. */
function resonancesNear(
  k: number,
  reach: number,
  [xModes, yModes, zModes]: AxesModes,
  airLossPerM: number,
  span: HandOver,
): Resonance[] {
  const withinSpan = spanNodes(span)
  const resonances: Resonance[] = []
  for (const [x, xMode] of xModes.entries()) {
    for (const [z, zMode] of zModes.entries()) {
      for (const [y, yMode] of yModes.entries()) {
        // The even pressure of the whole hall is no wave.
        if (x + y + z === 0) continue
        const K = lengthOf([xMode.q, yMode.q, zMode.q])
        if (Math.abs(k - K.re) > reach) continue
        const evenLoss = [xMode, yMode, zMode].reduce((sum, { q, evenLossPerM }) => sum + evenLossPerM * q.re, 0) / K.re
        const whole = lateIntegral(k, K, airLossPerM + evenLoss, withinSpan, span.toM)
        const norm = multiply(multiply(xMode.norm, yMode.norm), zMode.norm)
        resonances.push({ x, y, z, K, answer: divide(whole, norm) })
      }
    }
  }
  return resonances
}

/** √(Σ q²), the root with a positive real part. */
function lengthOf(qs: readonly Complex[]): Complex {
  let re = 0
  let im = 0
  for (const q of qs) {
    re += q.re * q.re - q.im * q.im
    im += 2 * q.re * q.im
  }
  const size = Math.hypot(re, im)
  const rootRe = Math.sqrt((size + re) / 2)
  return { re: rootRe, im: im / (2 * rootRe) }
}

/** What the sources drive each resonance to. */
function strengthsOf(
  sources: readonly FittedSource[],
  axes: Axes,
  [xModes, yModes, zModes]: AxesModes,
  resonances: readonly Resonance[],
): Strengths {
  const driven = sources.map(({ source: { position }, fit }) => ({
    fit,
    xs: xModes.map((mode) => mirrorSums(modeWaves(mode, axes[0], position.xM))),
    ys: yModes.map((mode) => mirrorSums(modeWaves(mode, axes[1], position.yM))),
    zs: zModes.map((mode) => mirrorSums(modeWaves(mode, axes[2], position.zM))),
  }))
  const order = Math.max(0, ...sources.map(({ fit }) => fit.order))
  const [columnsX, columnsZ, from]: [number[], number[], number[]] = [[], [], []]
  const re = new Float64Array(resonances.length)
  const im = new Float64Array(resonances.length)
  for (const [t, { x, y, z, answer }] of resonances.entries()) {
    if (columnsX.at(-1) !== x || columnsZ.at(-1) !== z) {
      columnsX.push(x)
      columnsZ.push(z)
      from.push(t)
    }
    // A resonance is made of waves in eight directions, mirrored at the axes; the harmonics of one tell those of all.
    const [qx, qy, qz] = [xModes[x]?.q.re as number, yModes[y]?.q.re as number, zModes[z]?.q.re as number]
    const size = Math.hypot(qx, qy, qz)
    fillHarmonics(order, qx / size, qy / size, qz / size, harmonics)
    total.re = 0
    total.im = 0
    for (const { fit, xs, ys, zs } of driven) {
      addDrive(fit, xs[x] as MirrorSums, ys[y] as MirrorSums, zs[z] as MirrorSums)
    }
    re[t] = answer.re * total.re - answer.im * total.im
    im[t] = answer.re * total.im + answer.im * total.re
  }
  return {
    x: Uint16Array.from(columnsX),
    z: Uint16Array.from(columnsZ),
    from: Uint32Array.from([...from, resonances.length]),
    y: Uint16Array.from(resonances, ({ y }) => y),
    re,
    im,
  }
}

const harmonics = new Float64Array((highestFitOrder + 1) ** 2)
const total = { re: 0, im: 0 }

/** Sum and difference of the waves that leave a source along an axis, there and back: what is even and what is odd in it drives them. */
type MirrorSums = [even: Complex, odd: Complex]

/** What leaves back along the axis is turned at the low wall. */
const mirrorSums = ([there, back]: [Complex, Complex]): MirrorSums => [
  { re: there.re + back.re, im: there.im + back.im },
  { re: there.re - back.re, im: there.im - back.im },
]

/**
 * Adds what a source gives to a resonance: Σ D(direction) × the wave that leaves in it, over the eight ways in which it can leave. By what is even and
 * odd along each axis they are eight sums over the harmonics, each times one product.
 */
function addDrive(fit: FittedSource['fit'], xSums: MirrorSums, ySums: MirrorSums, zSums: MirrorSums): void {
  const { terms, ends } = termsByParity(fit.order)
  let at = 0
  for (let parity = 0; parity < ends.length; parity++) {
    let re = 0
    let im = 0
    for (const end = ends[parity] as number; at < end; at++) {
      const term = terms[at] as number
      re += (harmonics[term] as number) * (fit.re[term] as number)
      im += (harmonics[term] as number) * (fit.im[term] as number)
    }
    const x = xSums[parity & 1] as Complex
    const y = ySums[(parity >> 1) & 1] as Complex
    const z = zSums[parity >> 2] as Complex
    const flatRe = x.re * z.re - x.im * z.im
    const flatIm = x.re * z.im + x.im * z.re
    const waveRe = flatRe * y.re - flatIm * y.im
    const waveIm = flatRe * y.im + flatIm * y.re
    total.re += re * waveRe - im * waveIm
    total.im += re * waveIm + im * waveRe
  }
}
