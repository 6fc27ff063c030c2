import type { DistanceDatum } from '../../acoustics/index.ts'
import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { lengthText } from '../../words/lengths.ts'
import { downWords, tenthsText } from '../../words/levels.ts'
import * as say from './walk-more.messages.ts'

/** What the choice of the measuring point changes, with numbers. */
export function datumSentence(answer: WalkAnswer, datum: DistanceDatum, units: LengthUnit): string {
  const nearest = datum === 'nearest-face' ? answer : answer.byOtherDatum
  const front = datum === 'front-face' ? answer : answer.byOtherDatum
  const distances = say.bothDistances({
    front: lengthText(front.distanceM, units),
    nearest: lengthText(nearest.distanceM, units),
  })
  const bass = { front: downWords(front.bassDb), nearest: downWords(nearest.bassDb) }
  const levels = bass.front === bass.nearest ? say.bassByEither({ bass: bass.front }) : say.bassByEach(bass)
  const path = Math.abs(nearest.pathDb) < 0.05 ? '0' : tenthsText(Math.abs(nearest.pathDb))
  return `${distances} ${levels} ${say.pathAlone({ decibels: path })}`
}
