import type { Complex } from '../complex.ts'
import type { Point } from '../point.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { type Axis, axisFactor, axisReflections } from './hall-axes.ts'
import { type HandOver, handedOver } from './hand-over.ts'
import { addFittedWave, type FittedSource } from './outgoing-fit.ts'
import { toSourcePoint } from './placed-source.ts'

/** Images nearer than this are computed with the source's own pressure, farther ones with its fitted waves, m. */
const exactWithinM = 6

/** Images whose reflections and hand-over leave less than this of their pressure are left out. */
const faintestWeight = 2e-3

/** A source as early images need it: near by with its own pressure, farther away with its fitted waves. */
export type SoundingSource = FittedSource & { radiation: Radiation; drive: Complex }

/** Adds the direct sound and the early images of one source, as far as they are not handed over. */
export function addEarlyImages(
  { source, radiation, drive, fit }: SoundingSource,
  [xAxis, yAxis, zAxis]: readonly [Axis, Axis, Axis],
  listener: Point,
  airLossPerM: number,
  span: HandOver,
  sum: Complex,
): void {
  const { position } = source
  const xs = axisReflections(xAxis, listener.xM, position.xM, span.toM)
  const ys = axisReflections(yAxis, listener.yM, position.yM, span.toM)
  const zs = axisReflections(zAxis, listener.zM, position.zM, span.toM)
  const farthest = span.toM * span.toM
  for (const x of xs) {
    for (const z of zs) {
      const flat = x.offM * x.offM + z.offM * z.offM
      if (flat > farthest) continue
      for (const y of ys) {
        const square = flat + y.offM * y.offM
        if (square > farthest) continue
        const r = Math.sqrt(square)
        const walls = axisFactor(xAxis, x, r) * axisFactor(yAxis, y, r) * axisFactor(zAxis, z, r)
        const weight = walls * (1 - handedOver(span, r)) * Math.exp(-airLossPerM * r)
        if (Math.abs(weight) < faintestWeight) continue
        if (r < exactWithinM) {
          const point = { xM: position.xM + x.offM, yM: position.yM + y.offM, zM: position.zM + z.offM }
          const pressure = radiation.pressureAt(toSourcePoint(source, point))
          sum.re += weight * (pressure.re * drive.re - pressure.im * drive.im)
          sum.im += weight * (pressure.re * drive.im + pressure.im * drive.re)
        } else addFittedWave(fit, x.offM / r, y.offM / r, z.offM / r, r, weight, sum)
      }
    }
  }
}
