import type { AuditionPlace, PlaceResponses } from './audition-types.ts'

/**
 * The peak of a loop at each place, re the loop as made. Any value that is surely not too low will do up to `enough`: the
 * exact one takes a tenth of a second, and at a low volume nobody needs it.
 */
export type ArrivingPeak = (place: AuditionPlace, enough: number) => number

/**
 * Knows how high a loop comes out at both places. At most:  max|y| ≤ max|x| Σ|h|
 *
 * @param loop       one period
 * @param peakOf     the exact peak of this loop through a response
 * @param responses  of both places
 */
export function arrivingPeak(
  loop: Float32Array,
  peakOf: (response: Float32Array) => number,
  responses: PlaceResponses,
): ArrivingPeak {
  const loopPeak = loop.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)
  const known: Partial<Record<AuditionPlace, { atMost: number; exact?: number }>> = {}
  return (place, enough) => {
    const response = responses[place]
    known[place] ??= { atMost: loopPeak * response.reduce((sum, sample) => sum + Math.abs(sample), 0) }
    const peak = known[place]
    if (peak.exact === undefined && peak.atMost > enough) peak.exact = peakOf(response)
    return peak.exact ?? peak.atMost
  }
}
