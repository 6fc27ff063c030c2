import type { Band } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { type BackgroundStanding, withoutBackground } from './background.ts'
import { type BandEstimates, certain, combinedError, dbPerShare, type Estimate } from './estimate.ts'
import { type MicrophoneResponse, microphoneBandLevel } from './microphone-file.ts'
import { recordingBands } from './recording-bands.ts'

/** What one microphone measured at its place. */
export type MeasuredPlace = {
  levels: BandEstimates
  /** The same place without the sound. */
  background?: BandEstimates
  /** Taken off where its file reaches; beyond, the levels stay as they are. */
  microphone?: MicrophoneResponse
}

/** What goes into a comparison of two places. */
export type ComparedPlaces = {
  front: MeasuredPlace
  behind: MeasuredPlace
  /**
   * Front less behind of the same two, if both were recorded at once: its smaller error then counts (pairedDifference). Its level
   * does not count.
   */
  paired?: BandEstimates
  /** How much more the microphone behind shows than the one in front, side by side (the match take). */
  offset?: BandEstimates
  /** Distances of both, m: given when the level behind is to be brought to the distance of the front by 20 lg. */
  bringTogether?: { frontM: number; behindM: number }
}

/** One third octave of a comparison. */
export type ComparedBand = {
  nominalHz: number
  /** Where the two levels stand above the background; null without a background, or without a level. */
  standing: { front: BackgroundStanding | null; behind: BackgroundStanding | null }
  /** Levels free of background, offset and microphone; both or none. */
  levels: { front: Estimate; behind: Estimate } | null
  /** Front less behind; null where one of them was not measured. */
  difference: Estimate | null
}

/**
 * Front less behind in third octaves, with its error.
 *
 * Each level is freed of its background, then of its microphone's response; the one behind of the offset. The errors of both levels, of
 * the offset and of the backgrounds are combined; recorded at once, what rises and falls in both counts for neither.
 *
 * @returns  one entry for each of recordingBands
 * @throws RangeError if a distance is outside 0.1 to 1000 m
 */
export function levelDifference(places: ComparedPlaces): ComparedBand[] {
  const { front, behind, paired, offset, bringTogether } = places
  const distanceDb = bringTogether ? distanceStepDb(bringTogether) : 0
  return recordingBands.map(({ nominalHz }, band): ComparedBand => {
    const inFront = freed(front, band)
    const atBack = freed(behind, band)
    const standing = { front: inFront.standing, behind: atBack.standing }
    const shift = offset ? offset[band] : { levelDb: 0, errorDb: 0, freedom: certain }
    const first = inFront.estimate
    const second = atBack.estimate
    if (!first || !second || !shift) return { nominalHz, standing, levels: null, difference: null }
    const corrected = {
      levelDb: second.levelDb - shift.levelDb + distanceDb,
      ...combinedError([second, shift]),
    }
    const together = paired?.[band]
    const parts = together
      ? [together, beyond(first, front, band), beyond(second, behind, band), shift]
      : [first, corrected]
    return {
      nominalHz,
      standing,
      levels: { front: first, behind: corrected },
      difference: { levelDb: first.levelDb - corrected.levelDb, ...combinedError(parts) },
    }
  })
}

/**
 * How much a point source in free air is louder at the first distance than at the second:  20 lg (r₂/r₁)
 *
 * @param frontM, behindM  r₁ and r₂, 0.1 to 1000 m
 * @returns  dB
 * @throws RangeError if a distance is outside its range
 * Source:   inverse square law, any textbook.
 */
export function distanceStepDb({ frontM, behindM }: { frontM: number; behindM: number }): number {
  requireInRange('frontM', frontM, { min: 0.1, max: 1000, unit: 'm' })
  requireInRange('behindM', behindM, { min: 0.1, max: 1000, unit: 'm' })
  return 20 * Math.log10(behindM / frontM)
}

/**
 * Levels that were typed in or read from a table, all with one error.
 *
 * @param levelsDb  of recordingBands, null where there is none
 * @param errorDb   their standard error, 0 … 20 dB
 * @throws RangeError if errorDb is outside its range
 */
export function enteredLevels(levelsDb: readonly (number | null)[], errorDb: number): BandEstimates {
  requireInRange('errorDb', errorDb, { min: 0, max: 20, unit: 'dB' })
  return levelsDb.map((levelDb) => (levelDb === null ? null : { levelDb, errorDb, freedom: certain }))
}

function freed(
  { levels, background, microphone }: MeasuredPlace,
  band: number,
): { estimate: Estimate | null; standing: BackgroundStanding | null } {
  const total = levels[band]
  if (!total) return { estimate: null, standing: null }
  const quiet = background?.[band]
  const { estimate, standing } = quiet ? withoutBackground(total, quiet) : { estimate: total, standing: null }
  const ownDb = microphone && microphoneBandLevel(microphone, recordingBands[band] as Band)
  if (!estimate || !ownDb) return { estimate, standing }
  return { estimate: { ...estimate, levelDb: estimate.levelDb - ownDb }, standing }
}

/** What the background adds to the error of a level beyond the spread of its own blocks. */
function beyond(freedOne: Estimate, { levels }: MeasuredPlace, band: number): Pick<Estimate, 'errorDb' | 'freedom'> {
  const own = levels[band]?.errorDb ?? 0
  return { errorDb: Math.sqrt(Math.max(0, freedOne.errorDb ** 2 - own ** 2)), freedom: freedOne.freedom }
}

/** A range of bands summed: front less behind of the powers of those that both have. */
export type RangeDifference = {
  fromHz: number
  toHz: number
  difference: Estimate
  /** How many of its bands were measured, and how many there are. */
  measured: number
  of: number
}

/**
 * Front less behind of several third octaves together: the powers of the bands that were measured at both places, summed.
 *
 * The error of each band counts by its share of the power; errors of different bands are taken as independent.
 *
 * @param bands  as levelDifference gives them
 * @param range  nominal frequencies of the first and the last, Hz
 * @returns  null if fewer than two thirds of its bands were measured at both places
 * @throws RangeError if the range holds no band
 */
export function rangeDifference(
  bands: readonly ComparedBand[],
  { from, to }: { from: number; to: number },
): RangeDifference | null {
  const within = bands.filter(({ nominalHz }) => nominalHz >= from && nominalHz <= to)
  requireInRange('number of bands in the range', within.length, { min: 1 })
  const both = within.flatMap(({ levels, difference }) => (levels && difference ? [{ ...levels, difference }] : []))
  if (both.length < (2 / 3) * within.length) return null
  const power = ({ levelDb }: Estimate) => 10 ** (levelDb / 10)
  const frontPower = both.reduce((sum, { front }) => sum + power(front), 0)
  const behindPower = both.reduce((sum, { behind }) => sum + power(behind), 0)
  const parts = both.flatMap(({ front, behind, difference }) => {
    const [inFront, atBack] = [power(front) / frontPower, power(behind) / behindPower]
    // What both levels share (recorded at once) cancels as far as their weights are alike.
    const common = Math.max(0, (front.errorDb ** 2 + behind.errorDb ** 2 - difference.errorDb ** 2) / 2)
    const variance = (inFront * front.errorDb) ** 2 + (atBack * behind.errorDb) ** 2 - 2 * inFront * atBack * common
    return [{ errorDb: Math.sqrt(Math.max(0, variance)), freedom: difference.freedom }]
  })
  return {
    fromHz: from,
    toHz: to,
    difference: { levelDb: dbPerShare * Math.log(frontPower / behindPower), ...combinedError(parts) },
    measured: both.length,
    of: within.length,
  }
}
