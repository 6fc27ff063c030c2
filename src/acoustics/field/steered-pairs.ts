import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { alongYaw, type PlacedSource, requirePoint } from './placed-source.ts'

const spacingRange = { above: 0, max: 100, unit: 'm' }

/**
 * Two equal boxes one behind the other that send little to the rear: the rear one is delayed by the sound's way between
 * them, d/c, and inverted. Far away, re one box:
 *
 *   |p(θ)| = 2 |sin(kd (1 + cos θ)/2)|
 *
 * Nothing goes straight back at any frequency. In front the sum is loudest where d is a quarter wavelength; below, it falls by
 * 6 dB an octave; at half a wavelength the front is silent too. For d ≪ λ the pattern is a cardioid.
 *
 * @param spec  spacingM d, above 0 to 100 m; centre, halfway between the boxes' own origins; yawRad, where the pair fires and
 *              both boxes face; radiation of one box
 * @param air   gives the speed of sound
 * @returns     [front, rear]
 * @throws RangeError for a value outside its range
 * Source: Olson, Gradient loudspeakers, J. Audio Eng. Soc. 21 (1973).
 */
export function gradientPair(
  spec: { spacingM: number; centre: Point; yawRad: number; radiation: PlacedSource['radiation'] },
  air: Air,
): PlacedSource[] {
  const { spacingM, centre, yawRad, radiation } = checkSpec(spec, air)
  const box = { radiation, yawRad, gain: 1 }
  return [
    { ...box, position: alongYaw(centre, yawRad, spacingM / 2), delayS: 0, polarity: 1 },
    { ...box, position: alongYaw(centre, yawRad, -spacingM / 2), delayS: spacingM / air.speedOfSoundMps, polarity: -1 },
  ]
}

/**
 * Equal boxes in a row along the direction of fire, each delayed by the way of the sound from the rearmost, so that all
 * arrive in step in front. Far away, re one box, for N boxes:
 *
 *   |p(θ)| = |sin(Nψ)/sin ψ|,  ψ = kd (1 − cos θ)/2
 *
 * In front N boxes add to 20 lg N dB at every frequency; to the rear they cancel about the frequency where d is a quarter
 * wavelength.
 *
 * @param spec  count N, 1 … 64; spacingM d, above 0 to 100 m; centre, the middle of the row; yawRad, where it fires and all boxes
 *              face; radiation of one box
 * @param air   gives the speed of sound
 * @returns     [rear … front]; the rear box plays first, undelayed
 * @throws RangeError for a value outside its range
 * Source: Kinsler, Frey, Coppens & Sanders, 4th ed., section 7.8 (the steered line array), steered along its own axis.
 */
export function endFireLine(
  spec: { count: number; spacingM: number; centre: Point; yawRad: number; radiation: PlacedSource['radiation'] },
  air: Air,
): PlacedSource[] {
  const { spacingM, centre, yawRad, radiation } = checkSpec(spec, air)
  const count = requireInRange('count', spec.count, { min: 1, max: 64, integer: true })
  return Array.from({ length: count }, (_, i) => ({
    radiation,
    position: alongYaw(centre, yawRad, (i - (count - 1) / 2) * spacingM),
    yawRad,
    gain: 1,
    delayS: (i * spacingM) / air.speedOfSoundMps,
    polarity: 1 as const,
  }))
}

function checkSpec<Spec extends { spacingM: number; centre: Point; yawRad: number }>(spec: Spec, air: Air): Spec {
  requireAir(air)
  requireInRange('spacingM', spec.spacingM, spacingRange)
  requirePoint('centre', spec.centre)
  requireInRange('yawRad', spec.yawRad, { unit: 'rad' })
  return spec
}
