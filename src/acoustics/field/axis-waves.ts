import type { Complex } from '../complex.ts'
import type { Axis } from './hall-axes.ts'

/** One order of standing wave along an axis in one sense of travel: wavenumber with its sign, sense, share (½ where both senses have wavenumber 0). */
export type AxisWave = { wavenumber: number; sense: 1 | -1; share: number }

/** The waves along an axis up to a wavenumber, rad/m; the two senses of an order stand side by side. */
export function axisWaves(axis: Axis, highest: number): AxisWave[] {
  const waves: AxisWave[] = []
  for (let n = 0; (n * Math.PI) / axis.lengthM <= highest; n++) {
    for (const sense of [1, -1] as const) {
      waves.push({ wavenumber: (sense * n * Math.PI) / axis.lengthM, sense, share: n === 0 ? 0.5 : 1 })
    }
  }
  return waves
}

/** Along one axis: the wave that has hit both walls equally often, and the one that has been turned at the low wall. */
export function waveShape(
  { fromM, lossPerM, lateLow }: Axis,
  { wavenumber, sense }: AxisWave,
  placeM: number,
): Complex {
  const u = placeM - fromM
  const even = Math.exp(sense * lossPerM * u)
  const odd = Math.exp(-sense * lossPerM * u) * (sense > 0 ? 1 / lateLow : lateLow)
  return { re: (even + odd) * Math.cos(wavenumber * u), im: (odd - even) * Math.sin(wavenumber * u) }
}
