import type { Point } from '../point.ts'
import { type Axis, type AxisReflection, axisReflections } from './hall-axes.ts'
import { type HandOver, handedOver } from './hand-over.ts'

/** Extra path over which early images fade out and the reverberant field takes their place, m: 10 to 50 ms. */
export const earlySound: HandOver = { fromM: 3.4, toM: 17 }

/**
 * Goes through the direct sound and the early images of a listener, as far as they are not faded out.
 *
 * @param axes   of the hall, at any frequency: where its walls are counts
 * @param visit  called for each with its image along each axis, its way from the source, m, how much farther that is than the direct
 *               one, m, and what the fading leaves of its pressure, above 0 up to 1
 */
export function visitEarlyImages(
  [xAxis, yAxis, zAxis]: readonly [Axis, Axis, Axis],
  source: Point,
  listener: Point,
  visit: (
    x: AxisReflection,
    y: AxisReflection,
    z: AxisReflection,
    travelM: number,
    lateM: number,
    fade: number,
  ) => void,
): void {
  const directM = Math.hypot(listener.xM - source.xM, listener.yM - source.yM, listener.zM - source.zM)
  const withinM = directM + earlySound.toM
  const xs = axisReflections(xAxis, listener.xM, source.xM, withinM)
  const ys = axisReflections(yAxis, listener.yM, source.yM, withinM)
  const zs = axisReflections(zAxis, listener.zM, source.zM, withinM)
  for (const x of xs) {
    for (const z of zs) {
      for (const y of ys) {
        const travelM = Math.hypot(x.offM, y.offM, z.offM)
        const lateM = travelM - directM
        const fade = 1 - handedOver(earlySound, lateM)
        if (fade > 0) visit(x, y, z, travelM, lateM, fade)
      }
    }
  }
}
