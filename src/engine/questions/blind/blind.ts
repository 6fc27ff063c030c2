import {
  aWeightingDb,
  type Band,
  bandLevelsDb,
  type Complex,
  crossoverResponse,
  filteredResponse,
  frontPlaceAtSameDistance,
  placePoint,
  weightedLevelDb,
} from '../../../acoustics/index.ts'
import { airOf } from '../../scene/air.ts'
import { liftDb } from '../../scene/free-field.ts'
import type { PlaceQuestion } from '../../scene/place-question.ts'
import { placeResponses, type ResponseSpec } from '../../scene/place-responses.ts'
import type { Responses } from '../../scene/responses.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { levelsAt, standingRig } from '../../scene/standing-rig.ts'
import { heardBands, spectrumBands, spectrumOf } from '../../scene/third-octaves.ts'
import { type BlindStage, bassAloneHz, blindStages } from './blind-terms.ts'

/** One stage of the blind comparison of a place with the front, in free air. */
export type BlindQuestion = PlaceQuestion & ResponseSpec & { stage: BlindStage }

/** What a stage plays: both responses, whether they are matched in loudness, and at which level in front. */
export type BlindResponses = Responses & {
  matched: boolean
  /** A-weighted level in front of pink noise through the stage's own response, dB re 20 µPa. */
  frontLevelDbA: number
}

/** The cut above the bass: an eighth-order slope, 6 dB down at bassAloneHz and 48 dB an octave above. The same for both places. */
const bassAlone = (frequencyHz: number): Complex =>
  crossoverResponse({ alignment: 'linkwitz-riley', order: 8, frequencyHz: bassAloneHz }, 'low-pass', frequencyHz)

const aWeightedDb = (levels: Float64Array, bands: Band[]) => weightedLevelDb(levels, bands, aWeightingDb)

/**
 * The pair of responses for a stage. For the bass alone both go through the same low-pass, and the level in front is the
 * one that is left of the pink noise, band by band: what is equally loud hardly depends on it (a twentieth of a dB for 15 dB).
 *
 * @throws RangeError for a place inside a cabinet, a level out of range or an unknown stage
 */
export function blindResponses(question: BlindQuestion): BlindResponses {
  const { rig, place, datum, referenceDbA, stage, sampleRateHz } = question
  if (!blindStages.includes(stage)) {
    throw new RangeError(`stage is ${String(stage)}; allowed is ${blindStages.join(', ')}`)
  }
  const standing = standingRig(rig, { kind: 'outdoors' }, airOf(question.air))
  const lift = liftDb(standing.free, referenceDbA)
  const here = placePoint(place, earHeightM)
  const front = placePoint(frontPlaceAtSameDistance(place, rig, datum), earHeightM)
  const frontDb = levelsAt(standing, front).map((level) => level + lift)
  const responses = placeResponses(standing, { here, front }, question)
  const frontLevelDbA = aWeightedDb(frontDb, heardBands)
  const whole = { ...responses, matched: stage !== 'true-level', frontLevelDbA }
  if (stage !== 'bass-alone') return whole
  const cut = (response: Float32Array) => filteredResponse(response, bassAlone, sampleRateHz)
  const cutDb = bandLevelsDb(bassAlone, spectrumBands)
  const shownDb = spectrumOf(frontDb)
  const leftDb =
    aWeightedDb(
      shownDb.map((level, band) => level + (cutDb[band] as number)),
      spectrumBands,
    ) - aWeightedDb(shownDb, spectrumBands)
  return {
    ...whole,
    here: cut(responses.here),
    front: cut(responses.front),
    frontLevelDbA: frontLevelDbA + leftDb,
  }
}
