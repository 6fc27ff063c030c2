import type { Rig } from '../../../acoustics/index.ts'
import { steerAnswerInFull } from './solved-set.ts'
import { boxOf } from './steer-boxes.ts'
import { guessDelaysMs, type SteerGuess } from './steer-guess-terms.ts'
import { lessonCase, lessonSet, lessonSpeedMps, turnedOnly } from './steer-lesson.ts'

/** What the guess of a delay is held against: the lesson's pair with every delay of the guess. */
export function guessedPair(rig: Rig): SteerGuess {
  const question = lessonCase(rig)
  const { spacingM } = lessonSet
  const withDelay = (delayMs: number) =>
    steerAnswerInFull({ ...question, set: { ...lessonSet, delayS: delayMs / 1000 } })
  const merits = guessDelaysMs.map((delayMs) => withDelay(delayMs).merits)
  const turned = steerAnswerInFull({ ...question, set: turnedOnly }).merits
  const { heightM, depthM } = boxOf(rig)
  const cutsDb = merits.map(({ behindCutDb }) => behindCutDb)
  return {
    spacingM,
    travelMs: (1000 * spacingM) / lessonSpeedMps,
    bestMs: guessDelaysMs[cutsDb.indexOf(Math.max(...cutsDb))] as number,
    box: { heightM, depthM },
    tableM: -question.behind.zM,
    cutsDb,
    lossesDb: merits.map(({ frontLossDb }) => frontLossDb),
    turnedOnly: { cutDb: turned.behindCutDb, lossDb: turned.frontLossDb },
  }
}
