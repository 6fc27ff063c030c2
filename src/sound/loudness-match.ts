import { matchedLoudnessGains } from '../acoustics/hearing/loudness-match.ts'
import { loudnessBands } from '../acoustics/hearing/zwicker-loudness.ts'
import { requireInRange } from '../acoustics/numeric-range.ts'
import type { LoopWeights } from '../acoustics/signals/loop-levels.ts'
import { gridLengthFor, levelsThroughResponse, loopWeights } from '../acoustics/signals/loop-levels.ts'
import type { PlaceGainsDb, PlaceResponses } from './audition-types.ts'

/** Highest third-octave level that the loudness method takes in the bass, dB re 20 µPa. */
const highestBandLevelDb = 120

/** Checks the level in front: 0 … 120 dB(A). Throws RangeError otherwise. */
export const requireFrontLevel = (frontLevelDbA: number): number =>
  requireInRange('frontLevelDbA', frontLevelDbA, { min: 0, max: 120, unit: 'dB(A)' })

/** Finds what makes a loop equally loud at both places. */
export type LoudnessMatch = {
  /**
   * Gains that make the two places equally loud (equal sones, free field): 0 dB for the quieter, less for the louder.
   * The levels are those of the loop through both responses, set so that the front has the given A-weighted level, or a
   * lower one if a third octave would pass 120 dB. If one of them cannot be heard at that level, neither is changed.
   */
  gainsDb(responses: PlaceResponses, frontLevelDbA: number): PlaceGainsDb
}

/**
 * Prepares the matching of one loop.
 *
 * @param loop          one period, at least 2 samples
 * @param sampleRateHz  of the loop and of the responses, at least 28.3 kHz (the upper edge of 12.5 kHz)
 * @throws RangeError if a value is outside its range
 */
export function createLoudnessMatch(loop: Float32Array, sampleRateHz: number): LoudnessMatch {
  const weightsByGrid = new Map<number, LoopWeights>()
  const weightsFor = ({ here, front }: PlaceResponses): LoopWeights => {
    const gridLength = gridLengthFor(here, front)
    const known = weightsByGrid.get(gridLength) ?? loopWeights(loop, sampleRateHz, loudnessBands, gridLength)
    weightsByGrid.set(gridLength, known)
    return known
  }
  return {
    gainsDb(responses, frontLevelDbA) {
      requireFrontLevel(frontLevelDbA)
      const { here, front } = responses
      const weights = weightsFor(responses)
      const atFront = levelsThroughResponse(weights, front)
      const atHere = levelsThroughResponse(weights, here)
      if (!Number.isFinite(atFront.aWeightedDb) || !Number.isFinite(atHere.aWeightedDb)) return { here: 0, front: 0 }
      const loudestBandDb = Math.max(...atFront.bandLevelsDb, ...atHere.bandLevelsDb)
      const liftDb = Math.min(frontLevelDbA - atFront.aWeightedDb, highestBandLevelDb - loudestBandDb)
      // Rounding may put the loudest band a last digit beyond the limit.
      const lifted = (levelsDb: Float64Array): Float64Array =>
        levelsDb.map((levelDb) => Math.min(levelDb + liftDb, highestBandLevelDb))
      const gains = matchedLoudnessGains(lifted(atHere.bandLevelsDb), lifted(atFront.bandLevelsDb), 'free')
      return { here: gains.firstDb, front: gains.secondDb }
    },
  }
}
