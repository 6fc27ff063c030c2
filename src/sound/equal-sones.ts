import { matchedLoudnessGains } from '../acoustics/hearing/loudness-match.ts'
import { loudnessBands } from '../acoustics/hearing/zwicker-loudness.ts'
import { levelsThroughResponse, loopWeights } from '../acoustics/signals/loop-levels.ts'
import { usualDbA } from '../engine/scene/scene-terms.ts'
import { gainFromDb } from './gain.ts'

/** More than any loop needs to be raised by, dB; 15 dB over the usual level no third octave passes what the method takes. */
const raisedDb = 15

/**
 * Gain that makes a loop as loud as another, in sones, both from one side in front and the other at the usual level. Both are
 * taken as steady sounds of their mean third octaves: what swells and pauses may be a little louder to the ear than that.
 *
 * @param loop          one period
 * @param reference     one period of the other; must be heard at the usual level
 * @param sampleRateHz  of both, at least 28.3 kHz (the upper edge of 12.5 kHz)
 * @returns  linear gain
 * @throws   RangeError if a value is outside its range, or either loop cannot be heard
 * Source:   ISO 532-1:2017, method for stationary sounds.
 */
export function gainToEqualSones(loop: Float32Array, reference: Float32Array, sampleRateHz: number): number {
  const levelsOf = (samples: Float32Array) =>
    // The sound as it is made: through no response but a single tap, whose spectrum is the same on every grid.
    levelsThroughResponse(loopWeights(samples, sampleRateHz, loudnessBands, 16), [1])
  const { aWeightedDb, bandLevelsDb } = levelsOf(reference)
  const liftDb = usualDbA - aWeightedDb
  const gains = matchedLoudnessGains(
    levelsOf(loop).bandLevelsDb.map((levelDb) => levelDb + liftDb + raisedDb),
    bandLevelsDb.map((levelDb) => levelDb + liftDb),
    'free',
  )
  if (gains.firstDb === 0)
    throw new RangeError(`a loop cannot be heard, or is more than ${raisedDb} dB weaker than the other`)
  return gainFromDb(raisedDb + gains.firstDb)
}
