import { frontPlaceAtSameDistance, placePoint } from '../../../acoustics/index.ts'
import { hallResponses } from '../../scene/hall-responses.ts'
import { placeResponses, type ResponseSpec } from '../../scene/place-responses.ts'
import type { Responses } from '../../scene/responses.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { type WalkQuestion, walkScene } from './walk.ts'

export type ResponseQuestion = WalkQuestion & ResponseSpec

/** Impulse responses here and in front, 0 dB = the front's passband in free air. In a hall they are as long as it rings. */
export function walkResponses(question: ResponseQuestion): Responses {
  const { rig, place, datum, surroundings, sampleRateHz, air } = question
  const here = placePoint(place, earHeightM)
  const front = placePoint(frontPlaceAtSameDistance(place, rig, datum), earHeightM)
  if (surroundings?.kind === 'hall') {
    return hallResponses({ rig, hall: surroundings.design, place: here, front, compare: 'places', sampleRateHz, air })
  }
  return placeResponses(walkScene(question), { here, front }, question)
}
