import { requireInRange } from '../acoustics/numeric-range.ts'
import type { AuditionPlace, PlaceGainsDb } from './audition-types.ts'
import { lowestVolumeDb } from './audition-types.ts'

/**
 * Linear amplitude gain of a level difference: 10^(gainDb/20).
 *
 * @param gainDb  dB, any finite number
 * @throws RangeError if gainDb is not finite
 */
export function gainFromDb(gainDb: number): number {
  return 10 ** (requireInRange('gainDb', gainDb) / 20)
}

/**
 * Linear gain of a volume setting.
 *
 * @param volumeDb  dB, −60 … 0
 * @throws RangeError outside the range
 */
export function volumeGain(volumeDb: number): number {
  return gainFromDb(requireInRange('volumeDb', volumeDb, { min: lowestVolumeDb, max: 0, unit: 'dB' }))
}

/**
 * Linear gain by which a weak pair of places is raised.
 *
 * @param raisedDb  dB, 0 … 24
 * @throws RangeError outside the range
 */
export function raisedGain(raisedDb: number): number {
  return gainFromDb(requireInRange('raisedDb', raisedDb, { min: 0, max: 24, unit: 'dB' }))
}

/**
 * Linear gain of each place when the ear is at one of them: its matching gain there, silence at the other.
 * The two places carry the same signal, so a linear cross-fade between these gains keeps the level.
 *
 * @param place    where the ear is
 * @param gainsDb  matching gain of each place, dB, 0 or less
 * @throws RangeError for a gain above 0 dB or not finite
 */
export function placeGains(place: AuditionPlace, gainsDb: PlaceGainsDb): Record<AuditionPlace, number> {
  const here = gainFromDb(requireInRange('gainsDb.here', gainsDb.here, { max: 0, unit: 'dB' }))
  const front = gainFromDb(requireInRange('gainsDb.front', gainsDb.front, { max: 0, unit: 'dB' }))
  return { here: place === 'here' ? here : 0, front: place === 'front' ? front : 0 }
}
