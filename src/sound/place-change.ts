import { groupLevelDb } from '../acoustics/field/band-levels.ts'
import { gridLengthFor, levelsThroughResponse, loopWeights } from '../acoustics/signals/loop-levels.ts'
import { bassHz, middleHz, spectrumBands, trebleHz } from '../engine/scene/third-octaves.ts'
import type { PlaceChangeDb, PlaceResponses } from './audition-types.ts'

/** Third-octave levels of an impulse, as the band filters see it, kept for the last length and rate: they change hardly ever. */
let kept: { sampleRateHz: number; gridLength: number; weights: ReturnType<typeof loopWeights> } | undefined
function impulseWeights(sampleRateHz: number, gridLength: number): ReturnType<typeof loopWeights> {
  if (kept?.sampleRateHz === sampleRateHz && kept.gridLength === gridLength) return kept.weights
  const impulse = new Float32Array(gridLength)
  impulse[0] = 1
  kept = { sampleRateHz, gridLength, weights: loopWeights(impulse, sampleRateHz, spectrumBands, gridLength) }
  return kept.weights
}

/**
 * What going from `front` to `here` changes in the sound: the level here less the level in front of sound with equal power in every third
 * octave (pink noise), in each group together, as in the sentences of the walk-round.
 *
 * @param responses     impulse responses of the two places, 1 sample or more
 * @param sampleRateHz  of the responses, at least 35.6 kHz (the upper edge of 16 kHz)
 * @returns  dB; −Infinity or NaN in a group of which nothing arrives
 * @throws   RangeError if a value is outside its range
 */
export function placeChangeDb({ here, front }: PlaceResponses, sampleRateHz: number): PlaceChangeDb {
  const weights = impulseWeights(sampleRateHz, gridLengthFor(here, front))
  const unit = levelsThroughResponse(weights, [1]).bandLevelsDb
  const changed = (response: Float32Array): Float64Array =>
    levelsThroughResponse(weights, response).bandLevelsDb.map((levelDb, band) => levelDb - (unit[band] as number))
  const [atHere, atFront] = [changed(here), changed(front)]
  const groupDb = ({ from, to }: { from: number; to: number }): number =>
    groupLevelDb(atHere, spectrumBands, from, to) - groupLevelDb(atFront, spectrumBands, from, to)
  return { bassDb: groupDb(bassHz), middleDb: groupDb(middleHz), trebleDb: groupDb(trebleHz) }
}
