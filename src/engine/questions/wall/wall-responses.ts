import {
  amplitudeRatio,
  type Complex,
  fromPolar,
  impulseResponse,
  multiply,
  transferKnotsHz,
} from '../../../acoustics/index.ts'
import { passbandDb } from '../../scene/free-field.ts'
import type { ResponseSpec } from '../../scene/place-responses.ts'
import { leadInS, type Responses } from '../../scene/responses.ts'
import type { WallQuestion } from './wall.ts'
import { arrivalsIn, requireWallPlaces, thirdOctavesDb, wallField, wallPlaces } from './wall-arrivals.ts'

export type WallResponseQuestion = Omit<WallQuestion, 'frequencyHz' | 'referenceDbA'> &
  ResponseSpec & {
    /** Two places with the wall, or the place in front with the wall and without. */
    compare: 'places' | 'wall'
  }

/**
 * The impulse responses that the sound is rendered with, 0 dB = the passband in front without the wall. 'places': between box
 * and wall, and in front. 'wall': in front with the wall, and without it.
 *
 * @throws RangeError as wallAnswer
 */
export function wallResponses(question: WallResponseQuestion): Responses {
  const { compare, sampleRateHz, length } = question
  requireWallPlaces(question)
  const field = wallField(question)
  const places = wallPlaces(question, field)
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / length, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const front = arrivalsIn(field, places.front, knotsHz)
  const gain = amplitudeRatio(-passbandDb(thirdOctavesDb(front.without, front.spreadS)))
  const response = (transfer: (frequencyHz: number) => Complex) =>
    impulseResponse(
      (frequencyHz) => multiply(transfer(frequencyHz), fromPolar(gain, -2 * Math.PI * frequencyHz * leadInS)),
      { sampleRateHz, length },
    )
  return compare === 'wall'
    ? { here: response(front.both), front: response(front.without) }
    : { here: response(arrivalsIn(field, places.rear, knotsHz).both), front: response(front.both) }
}
