import { type Air, monopole, type PlacedSource, pressureFrom } from '../../src/acoustics/index.ts'

/** Distance that stands for far away, m. */
export const farAwayM = 1e5

/** Pressure of several sources far away, `angleDeg` off the direction of a yaw, re one point source at the origin. */
export function farPressure(
  sources: PlacedSource[],
  { frequencyHz, angleDeg, yawRad }: { frequencyHz: number; angleDeg: number; yawRad: number },
  air: Air,
): number {
  const angleRad = yawRad + (angleDeg * Math.PI) / 180
  const place = { xM: farAwayM * Math.sin(angleRad), yM: 0, zM: farAwayM * Math.cos(angleRad) }
  const { re, im } = pressureFrom(sources, [], place, frequencyHz, air)
  const one = monopole(frequencyHz, air).pressureAt(place)
  return Math.hypot(re, im) / Math.hypot(one.re, one.im)
}
