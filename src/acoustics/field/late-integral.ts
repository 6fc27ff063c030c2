import type { Complex } from '../complex.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { scaledErfc } from '../special/scaled-erfc.ts'
import type { AxisWave } from './axis-waves.ts'
import type { Axis } from './hall-axes.ts'
import { type HandOver, handedOver } from './hand-over.ts'

const withinWindow = gaussLegendre(24)
const beyondWindow = gaussLegendre(24)

/** Decays, in nepers, after which the tail of the integral is cut. */
const tailNepers = 26

export type Node = { at: number; weight: number }

/** Distances within the hand-over, m, and their weights, v(r) taken in. */
export function spanNodes(span: HandOver): Node[] {
  const half = (span.toM - span.fromM) / 2
  return Array.from(withinWindow.nodes, (node, i) => {
    const at = span.fromM + half * (1 + node)
    return { at, weight: half * (withinWindow.weights[i] as number) * handedOver(span, at) }
  })
}

/** Nepers beyond the hand-over and their weights; t = T x³ packs the points toward the start. */
const tailNodes: Node[] = Array.from(beyondWindow.nodes, (node, i) => {
  const x = (1 + node) / 2
  return { at: tailNepers * x ** 3, weight: (beyondWindow.weights[i] as number) * 1.5 * tailNepers * x * x }
})

/** (2π/jK) ∫ v(r) e^{−j(k−K)r} ∏ w(r) dr, from the beginning of the hand-over to infinity. */
export function lateIntegral(
  k: number,
  K: number,
  waves: readonly AxisWave[],
  axes: readonly Axis[],
  airLossPerM: number,
  withinSpan: readonly Node[],
  spanToM: number,
): Complex {
  let loss = airLossPerM
  const grazing: number[] = []
  for (const [i, wave] of waves.entries()) {
    const { lossPerM } = axes[i] as Axis
    if (wave.wavenumber === 0) grazing.push(lossPerM)
    else loss += (lossPerM * Math.abs(wave.wavenumber)) / K
  }
  const detuning = k - K
  // A mode that nothing but grazing damps would ring for ever at its own frequency: no hall loses less than this.
  loss = Math.max(loss, 1e-7)
  const sum = { re: 0, im: 0 }
  /** Adds weight · v · e^{−(loss + j detuning) r} ∏ w at a complex distance r. */
  const add = (rRe: number, rIm: number, wRe: number, wIm: number) => {
    const grow = Math.exp(-loss * rRe + detuning * rIm)
    const phase = -loss * rIm - detuning * rRe
    let re = grow * Math.cos(phase)
    let im = grow * Math.sin(phase)
    for (const lossPerM of grazing) {
      // κ √(r/2K) e^{−jπ/4}
      const size = lossPerM * Math.sqrt(Math.hypot(rRe, rIm) / (2 * K))
      const angle = Math.atan2(rIm, rRe) / 2 - Math.PI / 4
      const w = scaledErfc({ re: Math.max(0, size * Math.cos(angle)), im: size * Math.sin(angle) })
      const next = re * w.re - im * w.im
      im = re * w.im + im * w.re
      re = next
    }
    sum.re += re * wRe - im * wIm
    sum.im += re * wIm + im * wRe
  }
  for (const { at, weight } of withinSpan) add(at, 0, weight, 0)
  // Beyond the hand-over: r = r₂ + t/(loss + j detuning), along which the integrand falls like e^{−t}
  const norm = loss * loss + detuning * detuning
  const stepRe = loss / norm
  const stepIm = -detuning / norm
  for (const { at, weight } of tailNodes) add(spanToM + at * stepRe, at * stepIm, weight * stepRe, weight * stepIm)
  const factor = (2 * Math.PI) / K
  return { re: factor * sum.im, im: -factor * sum.re }
}
