import type { Complex } from '../complex.ts'
import { makeRoom } from '../make-room.ts'
import type { Point } from '../point.ts'
import { type AxisWave, axisWaves, waveShape } from './axis-waves.ts'
import type { Axis } from './hall-axes.ts'
import type { HandOver } from './hand-over.ts'
import { lateIntegral, spanNodes } from './late-integral.ts'
import { type FittedSource, fillHarmonics, highestFitOrder } from './outgoing-fit.ts'

/** Resonances farther than this from the frequency, times the width of the hand-over, do not count: beyond its spectrum. */
const widestDetuning = 22

/** Where the two senses of an order lie in axisWaves, from the first. */
const bothSenses = [0, 1]

/** Waves that share the order and sense along x and z: their strengths by the wave along y. */
type Column = { x: number; z: number; terms: { y: number; re: number; im: number }[]; re: number; im: number }

type AxisWaves = readonly [AxisWave[], AxisWave[], AxisWave[]]

/** The late images of all sources, summed as resonances (see hallField). */
export function lateResonances(
  sources: readonly FittedSource[],
  axes: readonly [Axis, Axis, Axis],
  k: number,
  airLossPerM: number,
  span: HandOver,
): (listener: Point) => Complex {
  const reach = widestDetuning / (span.toM - span.fromM)
  const waves = axes.map((axis) => axisWaves(axis, k + reach)) as [AxisWave[], AxisWave[], AxisWave[]]
  const [xWaves, yWaves, zWaves] = waves
  const columns = resonanceColumns(sources, axes, waves, k, reach, airLossPerM, span)
  let atYM = Number.NaN
  return ({ xM, yM, zM }) => {
    // A plan has one height: what the heights add up to is kept from place to place.
    if (yM !== atYM) {
      const shapes = yWaves.map((wave) => waveShape(axes[1], wave, yM))
      for (const column of columns) {
        column.re = 0
        column.im = 0
        for (const { y, re, im } of column.terms) {
          const shape = shapes[y] as Complex
          column.re += re * shape.re - im * shape.im
          column.im += re * shape.im + im * shape.re
        }
      }
      atYM = yM
    }
    const xShapes = xWaves.map((wave) => waveShape(axes[0], wave, xM))
    const zShapes = zWaves.map((wave) => waveShape(axes[2], wave, zM))
    const sum = { re: 0, im: 0 }
    for (const { x, z, re, im } of columns) {
      const a = xShapes[x] as Complex
      const b = zShapes[z] as Complex
      const sRe = a.re * b.re - a.im * b.im
      const sIm = a.re * b.im + a.im * b.re
      sum.re += re * sRe - im * sIm
      sum.im += re * sIm + im * sRe
    }
    return sum
  }
}

/** What every resonance within reach of the wavenumber k is driven to. */
function resonanceColumns(
  sources: readonly FittedSource[],
  axes: readonly [Axis, Axis, Axis],
  [xWaves, yWaves, zWaves]: AxisWaves,
  k: number,
  reach: number,
  airLossPerM: number,
  span: HandOver,
): Column[] {
  const volume = axes.reduce((product, axis) => product * axis.lengthM, 1)
  const key = JSON.stringify([axes, k, airLossPerM, span])
  const known = knownIntegrals.get(key)
  const integrals = known ?? []
  const withinSpan = spanNodes(span)
  let at = 0
  const grid: (Column['terms'] | undefined)[] = []
  for (const [xFirst, x] of xWaves.entries()) {
    for (const [zFirst, z] of zWaves.entries()) {
      for (const [yFirst, y] of yWaves.entries()) {
        // The integral over distance depends on the orders alone: the eight senses of travel share it.
        if (x.sense < 0 || y.sense < 0 || z.sense < 0) continue
        const K = Math.hypot(x.wavenumber, y.wavenumber, z.wavenumber)
        if (K === 0 || Math.abs(k - K) > reach) continue
        if (!known) integrals.push(lateIntegral(k, K, [x, y, z], axes, airLossPerM, withinSpan, span.toM))
        const { re, im } = integrals[at++] as Complex
        const share = (x.share * y.share * z.share) / (8 * volume)
        for (const xi of bothSenses) {
          for (const zi of bothSenses) {
            const cell = (xFirst + xi) * zWaves.length + zFirst + zi
            grid[cell] ??= []
            for (const yi of bothSenses) {
              const waves = [xWaves[xFirst + xi], yWaves[yFirst + yi], zWaves[zFirst + zi]] as [
                AxisWave,
                AxisWave,
                AxisWave,
              ]
              const drive = wavesDrive(sources, axes, waves, K)
              grid[cell].push({
                y: yFirst + yi,
                re: share * (re * drive.re - im * drive.im),
                im: share * (re * drive.im + im * drive.re),
              })
            }
          }
        }
      }
    }
  }
  if (!known) {
    makeRoom(knownIntegrals, mostKnown)
    knownIntegrals.set(key, integrals)
  }
  return grid.flatMap((terms, at) =>
    terms ? [{ x: Math.floor(at / zWaves.length), z: at % zWaves.length, terms, re: 0, im: 0 }] : [],
  )
}

/** Integrals over distance by hall, frequency and loss, in the order in which the resonances come: they are the same wherever the sources stand. */
const knownIntegrals = new Map<string, Complex[]>()
const mostKnown = 400

const harmonics = new Float64Array((highestFitOrder + 1) ** 2)

/** What all sources give to one wave: Σ D(K̂) e^{jK·s} and the losses on the way from the source to the low walls. */
function wavesDrive(
  sources: readonly FittedSource[],
  axes: readonly [Axis, Axis, Axis],
  waves: readonly [AxisWave, AxisWave, AxisWave],
  K: number,
): Complex {
  const total = { re: 0, im: 0 }
  const [x, y, z] = waves
  for (const { source, fit } of sources) {
    fillHarmonics(fit.order, x.wavenumber / K, y.wavenumber / K, z.wavenumber / K, harmonics)
    let re = 0
    let im = 0
    for (let t = 0; t < fit.re.length; t++) {
      re += (harmonics[t] as number) * (fit.re[t] as number)
      im += (harmonics[t] as number) * (fit.im[t] as number)
    }
    const places = [source.position.xM, source.position.yM, source.position.zM]
    let phase = 0
    let loss = 0
    for (const [i, wave] of waves.entries()) {
      const axis = axes[i] as Axis
      const s = (places[i] as number) - axis.fromM
      phase += wave.wavenumber * s
      loss += wave.sense * axis.lossPerM * s
    }
    const c = Math.exp(-loss) * Math.cos(phase)
    const d = Math.exp(-loss) * Math.sin(phase)
    total.re += re * c - im * d
    total.im += re * d + im * c
  }
  return total
}
