import { type Complex, fromPolar, multiply } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import type { Radiation } from './radiation.ts'

/**
 * Distance that stands for infinity, m. A source of size D errs by the phase kD²/2r, which is 1e-4 rad for 0.3 m at
 * 12 kHz; much farther, the rounding of kr itself would show.
 */
export const farAwayM = 1e5

/**
 * Complex far-field amplitude on the forward axis:  lim p · r · e^{jkr} for r → ∞, Pa·m, about the source's own origin.
 * It is read off the pressure far away, so it works for every model that can tell the pressure.
 *
 * @param radiation  any source
 * @param air        the medium that it was made with
 * @throws RangeError for an Air out of range
 */
export function onAxisFarField(radiation: Radiation, air: Air): Complex {
  requireAir(air)
  const pressure = radiation.pressureAt({ xM: 0, yM: 0, zM: farAwayM })
  return multiply(pressure, fromPolar(farAwayM, (2 * Math.PI * radiation.frequencyHz * farAwayM) / air.speedOfSoundMps))
}
