import {
  aWeightingDb,
  bandLevelsDb,
  type Complex,
  crossoverResponse,
  filteredResponse,
  weightedLevelDb,
} from '../../../acoustics/index.ts'
import { walkBands } from '../../scene/scene-terms.ts'
import { type ResponseQuestion, type Responses, walkAnswer, walkResponses } from '../walk/walk.ts'
import { type BlindStage, bassAloneHz, blindStages } from './blind-terms.ts'

/** One stage of the blind comparison of a place with the front. */
export type BlindQuestion = ResponseQuestion & { stage: BlindStage }

/** What a stage plays: both responses, whether they are matched in loudness, and at which level in front. */
export type BlindResponses = Responses & {
  matched: boolean
  /** A-weighted level in front of pink noise through the stage's own response, dB re 20 µPa. */
  frontLevelDbA: number
}

/** The cut above the bass: an eighth-order slope, 6 dB down at bassAloneHz and 48 dB an octave above. The same for both places. */
const bassAlone = (frequencyHz: number): Complex =>
  crossoverResponse({ alignment: 'linkwitz-riley', order: 8, frequencyHz: bassAloneHz }, 'low-pass', frequencyHz)

/**
 * The pair of responses for a stage. For the bass alone both go through the same low-pass, and the level in front is the
 * one that is left of the pink noise, band by band: what is equally loud hardly depends on it (a twentieth of a dB for 15 dB).
 *
 * @throws RangeError as walkAnswer and walkResponses, or for an unknown stage
 */
export function blindResponses({ stage, ...question }: BlindQuestion): BlindResponses {
  if (!blindStages.includes(stage)) {
    throw new RangeError(`stage is ${String(stage)}; allowed is ${blindStages.join(', ')}`)
  }
  const { heard, frontDb } = walkAnswer(question)
  const responses = walkResponses(question)
  const whole = { ...responses, matched: stage !== 'true-level', frontLevelDbA: heard.front.aWeightedDb }
  if (stage !== 'bass-alone') return whole
  const cut = (response: Float32Array) => filteredResponse(response, bassAlone, question.sampleRateHz)
  const cutDb = bandLevelsDb(bassAlone, walkBands)
  const aWeighted = (levelsDb: number[]) => weightedLevelDb(levelsDb, walkBands, aWeightingDb)
  const leftDb = aWeighted(frontDb.map((level, band) => level + (cutDb[band] as number))) - aWeighted(frontDb)
  return {
    ...whole,
    here: cut(responses.here),
    front: cut(responses.front),
    frontLevelDbA: whole.frontLevelDbA + leftDb,
  }
}
