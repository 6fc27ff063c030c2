import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { alongYaw, type PlacedSource, requirePoint } from './placed-source.ts'

/**
 * Equal boxes side by side that play in step. Far away in their plane, re one box, θ from the direction of fire, for N points:
 *
 *   |p(θ)| = |sin(Nψ)/sin ψ|,  ψ = (kd/2) sin θ
 *
 * In front and behind N points add to 20 lg N dB at every frequency: a row narrows, it does not favour the front. The first
 * null lies where sin θ = λ/(N d). The full strength returns where ψ is a multiple of π, sin θ = m λ/d: never for d < λ, at
 * the sides (90°) for d = λ, farther in above. At d = λ/2 the sides are silent for an even N and keep one point's sound for
 * an odd N; from there on they grow, which is why "at most half a wavelength at the top of the band" is the common
 * rule (common practice, no source).
 *
 * Not public and in no figure: the textbook's row, which the boxes of a figure are held against (tests and evidence).
 *
 * @param spec  count N, 1 … 64; spacingM d from middle to middle, above 0 to 100 m; centre, the middle of the row; yawRad, where
 *              all boxes face; radiation of one box
 * @returns     [left … right], as seen by one who looks where the row fires
 * @throws RangeError for a value outside its range
 * Source: Kinsler, Frey, Coppens & Sanders, 4th ed., chapter 7, the linear array.
 */
export function broadsideRow(spec: {
  count: number
  spacingM: number
  centre: Point
  yawRad: number
  radiation: PlacedSource['radiation']
}): PlacedSource[] {
  const { centre, yawRad, radiation } = spec
  const count = requireInRange('count', spec.count, { min: 1, max: 64, integer: true })
  const spacingM = requireInRange('spacingM', spec.spacingM, { above: 0, max: 100, unit: 'm' })
  requirePoint('centre', centre)
  requireInRange('yawRad', yawRad, { unit: 'rad' })
  return Array.from({ length: count }, (_, i) => ({
    radiation,
    position: alongYaw(centre, yawRad + Math.PI / 2, (i - (count - 1) / 2) * spacingM),
    yawRad,
    gain: 1,
    delayS: 0,
    polarity: 1 as const,
  }))
}
