import type { PhonePredictedAnswer, PhonePredictedQuestion } from '../../engine/questions/phone-walk/phone-predicted.ts'
import type { PhoneWalkAnswer, PhoneWalkQuestion } from '../../engine/questions/phone-walk/phone-terms.ts'
import type { Surroundings } from '../../engine/scene/surroundings.ts'
import type { KeptWalk } from './kept-walks.ts'

// What a walk asks of the engine, on the page and while it is built.

/** What the page has at hand when it is built: the practice walk, done, and what is told of it. */
export type DonePractice = { walk: KeptWalk; answer: PhoneWalkAnswer; predicted: PhonePredictedAnswer }

/** What is asked about a walk. */
export const walkQuestion = ({ quiet, fronts, places }: KeptWalk): PhoneWalkQuestion => ({
  quiet: quiet?.levels ?? null,
  fronts: fronts.map(({ levels }) => levels),
  places: places.map(({ heard, front }) => ({ levels: heard.levels, front })),
})

/** What the model is asked about its places. */
export const predictedQuestion = (
  { frontM, places }: KeptWalk,
  rig: PhonePredictedQuestion['rig'],
  surroundings: Surroundings,
): PhonePredictedQuestion => ({
  rig,
  surroundings,
  frontM,
  places: places.map(({ angleDeg, distanceM }) =>
    angleDeg === null || distanceM === null ? null : { angleDeg, distanceM },
  ),
})
