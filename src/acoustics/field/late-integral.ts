import type { Complex } from '../complex.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { type HandOver, handedOver } from './hand-over.ts'

const withinWindow = gaussLegendre(24)

/** A mode that nothing damps would ring for ever at its own frequency: no hall loses less than this, 1/m. */
const leastLossPerM = 1e-7

export type Node = { at: number; weight: number }

/** Distances within the hand-over, m, and their weights, v(r) taken in. */
export function spanNodes(span: HandOver): Node[] {
  const half = (span.toM - span.fromM) / 2
  return Array.from(withinWindow.nodes, (node, i) => {
    const at = span.fromM + half * (1 + node)
    return { at, weight: half * (withinWindow.weights[i] as number) * handedOver(span, at) }
  })
}

/** (2π/jK) ∫ v(r) e^{−(m + j(k−K))r} dr, from the beginning of the hand-over to infinity; K complex, m the loss that is not in it. */
export function lateIntegral(
  k: number,
  K: Complex,
  lossPerM: number,
  withinSpan: readonly Node[],
  spanToM: number,
): Complex {
  const loss = Math.max(lossPerM + K.im, leastLossPerM)
  const detuning = k - K.re
  let re = 0
  let im = 0
  for (const { at, weight } of withinSpan) {
    const size = weight * Math.exp(-loss * at)
    re += size * Math.cos(detuning * at)
    im -= size * Math.sin(detuning * at)
  }
  // Beyond the hand-over: e^{−a r₂}/a with a = loss + j detuning
  const norm = loss * loss + detuning * detuning
  const size = Math.exp(-loss * spanToM) / norm
  const [c, s] = [Math.cos(detuning * spanToM), -Math.sin(detuning * spanToM)]
  re += size * (c * loss + s * detuning)
  im += size * (s * loss - c * detuning)
  // times 2π/(jK)
  const over = (2 * Math.PI) / (K.re * K.re + K.im * K.im)
  const [fRe, fIm] = [-over * K.im, -over * K.re]
  return { re: re * fRe - im * fIm, im: re * fIm + im * fRe }
}
