import {
  finalId,
  finalLesson,
  finalPerLesson,
  finalQuestions,
  finalVerdict,
} from '../../engine/questions/check/final-check.ts'
import { finalCheckName } from '../../state/lesson-checks.ts'
import type { CheckPlan } from '../self-check/check-plan.ts'
import type { LessonQuestions } from '../self-check/check-words.ts'
import * as say from './final-check.messages.ts'

/** What the page knows of a lesson: its number, its title, and the headings to which its questions point, by their anchors. */
export type LessonPlace = { number: number; title: string; headings: Readonly<Record<string, string>> }
export type LessonPlaces = Readonly<Record<string, LessonPlace>>

/** Words of all lessons under the names that questions have in the final check. */
function underFinalNames<W>(
  asked: Readonly<Record<string, LessonQuestions>>,
  wordsOf: (questions: LessonQuestions) => Readonly<Record<string, W>>,
): Record<string, W> {
  return Object.fromEntries(
    Object.entries(asked).flatMap(([lesson, questions]) =>
      Object.entries(wordsOf(questions)).map(([id, words]) => [finalId(lesson, id), words]),
    ),
  )
}

/**
 * The final check as the widget of the self-checks takes it.
 *
 * @param asked   questions and words of each lesson by its slug, in the order of the course
 * @param places  where the lessons' headings stand
 */
export function finalPlan(asked: Readonly<Record<string, LessonQuestions>>, places: LessonPlaces): CheckPlan {
  const questions = Object.fromEntries(Object.entries(asked).map(([lesson, { questions: own }]) => [lesson, own]))
  const lessons = Object.keys(asked)
  return {
    name: finalCheckName,
    words: {
      computed: underFinalNames(asked, ({ computed }) => computed),
      judgement: underFinalNames(asked, ({ judgement }) => judgement),
    },
    all: finalPerLesson * lessons.length,
    drawn: (seed) => finalQuestions(questions, seed),
    placeOf: ({ id, question: { anchor } }) => {
      const lesson = finalLesson(id)
      const { number, title, headings } = places[lesson] ?? { number: 0, title: lesson, headings: {} }
      const order = 100 * number + Object.keys(headings).indexOf(anchor)
      return {
        href: `/lessons/${lesson}/#${anchor}`,
        heading: say.place({ number, title, heading: headings[anchor] ?? anchor }),
        order,
      }
    },
    isPassed: (drawn, results) => finalVerdict(drawn, results).passed,
  }
}
