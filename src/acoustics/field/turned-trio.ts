import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { alongYaw, type PlacedSource, requirePoint } from './placed-source.ts'

/**
 * Three equal boxes side by side, the middle one turned round: it faces the rear, is delayed by the sound's way from its
 * face to the plane of the others' faces, d/c, and inverted. So it meets them behind in opposition. Far away in the plane of
 * the three, points instead of boxes, re one of them, with the outer ones a pitch b either side of the middle:
 *
 *   |p(θ)| = |2 cos(kb sin θ) − e^{−jkd (1 + cos θ)}|
 *
 * Straight back two points meet one: with equal levels one point's sound is left at every frequency, and for d ≪ λ one point's sound
 * goes everywhere. Points would need 6 dB more in the middle to be silent behind. In front the sum is loudest, three points'
 * worth, where d is a quarter wavelength. Boxes differ: each sounds as if from ahead of its own face (an 18-inch sub by about
 * 0.25 m), the turned one therefore from twice that farther back than d, for which the delay d/c is too short.
 *
 * Not public and in no figure: the textbook's trio, which the boxes of a figure are held against (tests and evidence).
 *
 * @param spec  spacingM d, above 0 to 100 m, from the outer boxes' faces back to the face of the middle one (a box depth: the
 *              three stand flush); pitchM b from middle to middle, above 0 to 100 m; centre, the middle of the outer boxes' faces;
 *              yawRad, where the trio fires; radiation of one box, its origin in the middle of its face
 * @param air   gives the speed of sound
 * @returns     [left, middle, right], as seen by one who looks where the trio fires
 * @throws RangeError for a value outside its range
 * Source: superposition of three point sources (Kinsler, Frey, Coppens & Sanders, 4th ed., section 7.1); the arrangement is
 *         common practice, no source.
 */
export function turnedTrio(
  spec: { spacingM: number; pitchM: number; centre: Point; yawRad: number; radiation: PlacedSource['radiation'] },
  air: Air,
): PlacedSource[] {
  const { centre, yawRad, radiation } = spec
  requireAir(air)
  const spacingM = requireInRange('spacingM', spec.spacingM, { above: 0, max: 100, unit: 'm' })
  const pitchM = requireInRange('pitchM', spec.pitchM, { above: 0, max: 100, unit: 'm' })
  requirePoint('centre', centre)
  requireInRange('yawRad', yawRad, { unit: 'rad' })
  const outer = { radiation, yawRad, gain: 1, delayS: 0, polarity: 1 as const }
  const toTheRightRad = yawRad + Math.PI / 2
  return [
    { ...outer, position: alongYaw(centre, toTheRightRad, -pitchM) },
    {
      radiation,
      position: alongYaw(centre, yawRad, -spacingM),
      yawRad: yawRad + Math.PI,
      gain: 1,
      delayS: spacingM / air.speedOfSoundMps,
      polarity: -1,
    },
    { ...outer, position: alongYaw(centre, toTheRightRad, pitchM) },
  ]
}
