import { requireInRange } from '../numeric-range.ts'
import { certain, combinedError, type Estimate } from './estimate.ts'

/**
 * How far a level stands above the background alone:
 *
 *   clear         10 dB or more: the background adds less than 0.5 dB
 *   corrected     6 to 10 dB
 *   weak          3 to 6 dB: corrected too, and hardly sure
 *   not-measured  less than 3 dB: more than half of what was measured is background
 */
export type BackgroundStanding = 'clear' | 'corrected' | 'weak' | 'not-measured'

/** The margins, dB. Source: 6 and 10 dB ISO 16283-1:2014, clause 9.2; 3 dB ISO 3746:2010 (survey method), clause 8.2: values from memory. */
export const backgroundMarginsDb = { clear: 10, corrected: 6, weak: 3 } as const

/** How far a background may wander between its own take and the others, standard error, dB. Common practice, no source. */
export const usualWanderDb = 0.5

/**
 * A level without the background in it:  L = 10 lg (10^(L_total/10) − 10^(L_background/10))
 *
 * Subtracted at every margin from 3 dB up, though the standards leave it from 10 dB (ISO 16283-1) or 15 dB (ISO 3744) on: at
 * 10 dB it still is 0.46 dB. The error grows as the margin falls: that of each part counts by its share of what is left.
 *
 * @param total       with the sound that is measured
 * @param background  without it, same microphone, same place
 * @param wanderDb    see usualWanderDb; 0 … 10 dB
 * @returns  the margin (total less background), where it stands, and the estimate; none below a margin of 3 dB
 * @throws RangeError if wanderDb is outside its range
 */
export function withoutBackground(
  total: Estimate,
  background: Estimate,
  wanderDb = usualWanderDb,
): { estimate: Estimate | null; marginDb: number; standing: BackgroundStanding } {
  requireInRange('wanderDb', wanderDb, { min: 0, max: 10, unit: 'dB' })
  const marginDb = total.levelDb - background.levelDb
  const standing = standingOf(marginDb)
  if (standing === 'not-measured') return { estimate: null, marginDb, standing }
  const left = 1 - 10 ** (-marginDb / 10)
  const share = (1 - left) / left
  const error = combinedError([
    { errorDb: total.errorDb / left, freedom: total.freedom },
    { errorDb: background.errorDb * share, freedom: background.freedom },
    { errorDb: wanderDb * share, freedom: certain },
  ])
  return { estimate: { levelDb: total.levelDb + 10 * Math.log10(left), ...error }, marginDb, standing }
}

function standingOf(marginDb: number): BackgroundStanding {
  if (marginDb >= backgroundMarginsDb.clear) return 'clear'
  if (marginDb >= backgroundMarginsDb.corrected) return 'corrected'
  return marginDb >= backgroundMarginsDb.weak ? 'weak' : 'not-measured'
}
