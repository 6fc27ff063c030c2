import { requireInRange } from '../numeric-range.ts'

/** Energies at one distance: of the direct sound, and of all that the hall adds to it. */
export type Strengths = { direct: number; hall: number }

/** Steps of the search, how near to 1 the ratio of the two must come, and how far one step may go, as a factor. */
const mostSteps = 12
const closeEnough = 0.01
const widestStep = 2

/**
 * The distance along a direction at which the direct sound and all that a hall adds, early and late, are equally strong:
 *
 *   r ← r · √(direct(r)/hall(r))  until both agree to 1 %
 *
 * which lands at once if the direct sound falls like 1/r² and the hall's is the same everywhere, and needs a few rounds because early
 * reflections differ from place to place.
 *
 * @param strengthsAt  energies at a distance in any one unit, direct above 0; null where nobody can be, next to or inside the source
 * @param startM       where the search begins, above 0, up to mostM
 * @param mostM        as far as the hall reaches
 * @returns  m; mostM where direct sound is the stronger one all the way; 0 where the hall is it from the source on
 * @throws   RangeError for distances out of range
 */
export function equalStrengthM(
  strengthsAt: (distanceM: number) => Strengths | null,
  startM: number,
  mostM: number,
): number {
  requireInRange('mostM', mostM, { above: 0, unit: 'm' })
  let distanceM = requireInRange('startM', startM, { above: 0, max: mostM, unit: 'm' })
  for (let step = 0; step < mostSteps; step++) {
    const strengths = strengthsAt(distanceM)
    if (!strengths) return 0
    const ratio = strengths.hall > 0 ? strengths.direct / strengths.hall : Number.POSITIVE_INFINITY
    if (Math.abs(ratio - 1) < closeEnough || (ratio > 1 && distanceM === mostM)) break
    distanceM = Math.min(mostM, distanceM * Math.max(1 / widestStep, Math.min(widestStep, Math.sqrt(ratio))))
  }
  return distanceM
}
