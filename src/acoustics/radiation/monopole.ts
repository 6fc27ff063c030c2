import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { requireDirection } from './far-field-direction.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'

/**
 * A point source in free space:  p(r) = jωρ Q e^{−jkr} / (4πr),  W = ρ c k² |Q|² / (8π),  with Q = 1 m³/s (peak).
 *
 * @param frequencyHz  1e-6 … 1e6 Hz
 * @param air          the medium
 * @returns            Radiation; pressureAt throws RangeError at the source itself
 * @throws RangeError  for arguments outside these ranges
 * Source: any acoustics textbook, for instance Kinsler, Frey, Coppens & Sanders, 4th ed., section 7.1.
 */
export function monopole(frequencyHz: number, air: Air): Radiation {
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const strength = (2 * Math.PI * frequencyHz * air.densityKgM3) / (4 * Math.PI)
  return {
    frequencyHz,
    pressureAt(point) {
      const distanceM = Math.sqrt(point.xM * point.xM + point.yM * point.yM + point.zM * point.zM)
      requireInRange('distance from the point source', distanceM, { above: 0, unit: 'm' })
      const amplitude = strength / distanceM
      const phaseRad = wavenumber * distanceM
      return { re: amplitude * Math.sin(phaseRad), im: amplitude * Math.cos(phaseRad) }
    },
    powerW: (air.densityKgM3 * air.speedOfSoundMps * wavenumber * wavenumber) / (8 * Math.PI),
    directivityIndexDb: 0,
    farFieldDb(horizontalRad, verticalRad) {
      requireDirection(horizontalRad, verticalRad)
      return 0
    },
  }
}
