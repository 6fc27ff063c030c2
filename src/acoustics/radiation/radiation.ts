import type { Complex } from '../complex.ts'
import type { Point } from '../point.ts'

/**
 * What one source radiates at one frequency, per unit total volume velocity (1 m³/s, peak), time factor e^{+jωt}.
 * Every model of a source, closed form or solved, is handed on in this form.
 */
export type Radiation = {
  frequencyHz: number
  /** Pressure, Pa, peak, at a point outside the source in the source's own coordinates. Throws RangeError inside it. */
  pressureAt(point: Point): Complex
  /** Time-averaged radiated power, W. */
  powerW: number
  /** Directivity index on the forward axis (+z), far field, dB. */
  directivityIndexDb: number
  /** Far-field level in the direction (sin h cos v, sin v, cos h cos v), dB re the forward axis. */
  farFieldDb(horizontalRad: number, verticalRad: number): number
}
