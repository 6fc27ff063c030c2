import type { PlanPoint } from '../../../acoustics/index.ts'
import { decibels, type Fact, factsBy, metres, squareMetres } from '../fact.ts'
import { meritFacts, usableFacts } from './merit-facts.ts'
import { settableSet } from './settable-set.ts'
import { steerAnswerInFull } from './solved-set.ts'
import { bodiesOf, boxPlaces, outlineOf, type SteerSize, sizeOf } from './steer-boxes.ts'
import { lessonSpeedMps } from './steer-lesson.ts'
import type { Arrangement, SteerAnswer, SteerQuestion, SteerSet } from './steer-terms.ts'
import { delayOfSpacingS, textbookSet } from './textbook-set.ts'

/** Sets are compared with the table so far behind the rearmost back, m. */
const comparedBehindM = 2

/** The plan puts a place so finely, m. */
const planStepM = 0.05

/** Where the table stands behind a set that is compared with others, as the plan puts it. */
export function comparedTable(set: SteerSet, size: SteerSize): PlanPoint {
  const { zMinM } = outlineOf(bodiesOf(boxPlaces(set, size), size))
  return { xM: 0, zM: Number((Math.round((zMinM - comparedBehindM) / planStepM) * planStepM).toFixed(2)) }
}

/** The line of four that stands closer than by the book, m from face to face. */
const closeLineM = 1

/** The sets of the lesson beside each other, all by the book and as its links set them: pair, trio, lines of two and four; and a trio that is only turned. */
export function comparedFacts(question: SteerQuestion) {
  const byTheBook = (arrangement: Arrangement, count: number) =>
    settableSet(textbookSet(arrangement, count, question.band, sizeOf(question), lessonSpeedMps))
  const answerOf = (set: SteerSet) => comparedAnswer(set, question)
  const [pair, trio] = [byTheBook('pair', 2), byTheBook('trio', 3)]
  const closeLine = settableSet({
    ...byTheBook('end-fire', 4),
    spacingM: closeLineM,
    delayS: delayOfSpacingS(closeLineM, lessonSpeedMps),
  })
  const turned = steerAnswerInFull({ ...question, set: { ...trio, delayS: 0, inverted: false } }).merits
  const pairAnswer = answerOf(pair)
  return {
    ...setFacts('by-pair', pairAnswer),
    'by-pair-floor': squareMetres(pairAnswer.cost.floorM2),
    ...setFacts('by-trio', answerOf(trio)),
    ...setFacts('by-line-2', answerOf(byTheBook('end-fire', 2))),
    ...setFacts('by-line-4', answerOf(byTheBook('end-fire', 4))),
    ...meritFacts('trio-turned', turned, 'cut', 'loss'),
    'close-line-spacing': metres(closeLineM),
    'close-line-rejection': decibels(answerOf(closeLine).merits.rejectionDb),
    'compared-behind': metres(comparedBehindM),
  } satisfies Record<string, Fact>
}

/** A set with the table as far behind its rearmost back as for every other. */
const comparedAnswer = (set: SteerSet, question: SteerQuestion): SteerAnswer =>
  steerAnswerInFull({ ...question, set, behind: comparedTable(set, sizeOf(question)) })

const setFacts = <Name extends string>(name: Name, { merits, cost }: SteerAnswer) => ({
  ...meritFacts(name, merits, 'rejection', 'loss'),
  ...usableFacts(name, merits),
  ...factsBy<`${Name}-${'width' | 'depth'}`>([
    [`${name}-width`, metres(cost.widthM)],
    [`${name}-depth`, metres(cost.depthM)],
  ]),
})
