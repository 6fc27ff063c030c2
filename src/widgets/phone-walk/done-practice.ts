import type { Rig } from '../../acoustics/index.ts'
import { phonePractice } from '../../engine/questions/phone-walk/phone-practice.ts'
import { phonePredicted } from '../../engine/questions/phone-walk/phone-predicted.ts'
import { type HeardPlace, type PracticePlace, practicePlaces } from '../../engine/questions/phone-walk/phone-terms.ts'
import { phoneBlocks, phoneHeld, phoneWalkAnswer } from '../../engine/questions/phone-walk/phone-walk.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import { keptAtBuild } from '../at-build/kept-at-build.ts'
import { type KeptWalk, roundedPlace } from './kept-walks.ts'
import { practicePlace } from './listen.messages.ts'
import { type DonePractice, predictedQuestion, walkQuestion } from './walk-question.ts'

/** How much of each place's sound is held, s. */
const heldS = 12

/**
 * The practice walk, done: what an invented phone hears at its places goes the way of every walk. For pages while they are built, with the
 * solved cabinets of the rig at hand.
 */
export function donePractice(rig: Rig, hall: HallDesign): DonePractice {
  const heardAt = (at: PracticePlace): HeardPlace =>
    keptAtBuild('phone-practice', [rig.name, hall, at], () => {
      const { sampleRateHz, samples } = phonePractice({ rig, hall, at })
      const levels = phoneBlocks({ sampleRateHz, samples: samples.subarray(0, heldS * sampleRateHz) })
      return roundedPlace(phoneHeld({ levels, quiet: null }).place)
    })
  const places = (['tables', 'farTables', 'beside'] as const).map((at) => ({
    key: `practice-${at.toLowerCase()}`,
    name: practicePlace({ place: at }),
    heard: heardAt(at),
    front: 0,
    ...practicePlaces[at],
  }))
  const walk: KeptWalk = {
    key: 'practice-done',
    name: '',
    begun: '2026-01-01T00:00:00.000Z',
    isPractice: true,
    isProcessed: false,
    frontM: practicePlaces.front.distanceM,
    quiet: heardAt('quiet'),
    fronts: [heardAt('front')],
    places,
  }
  return {
    walk,
    answer: phoneWalkAnswer(walkQuestion(walk)),
    predicted: phonePredicted(predictedQuestion(walk, rig, { kind: 'hall', design: hall })),
  }
}
