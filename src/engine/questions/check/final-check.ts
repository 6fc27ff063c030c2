import { seededRandom } from '../../../acoustics/index.ts'
import type { CheckQuestion, CheckQuestions } from './check-terms.ts'
import { type DrawnQuestion, drawnQuestions, shuffled } from './drawn-check.ts'

// The final check of the course: of each lesson one question to be worked out and one of judgement, from the lesson's own pool.

/** How many questions are asked of each lesson: one of each kind. */
export const finalPerLesson = 2
const kinds: readonly CheckQuestion['kind'][] = ['computed', 'judgement']

/**
 * How many have to be right, of so many: five of six. Our own line (common practice, no source). It lies so high that the choices
 * alone, half of the questions, are not enough: whoever passes can also work most numbers out.
 */
export const finalPassMark = (all: number): number => Math.ceil((5 * all) / 6)

/** Questions that an earlier lesson asks in other words: one of the two is enough. */
const askedBefore: Readonly<Record<string, readonly string[]>> = {
  // Lesson 1's `path` is the same sum.
  'small-box-long-wave': ['trap'],
}

/** The name of a question among all lessons, and the lesson of such a name. */
export const finalId = (lesson: string, id: string): string => `${lesson}/${id}`
export const finalLesson = (id: string): string => id.slice(0, id.indexOf('/'))

/**
 * The final check of one seed: two questions of each lesson, drawn as the lesson's own check draws them, all lessons mixed. The same
 * seed gives the same questions. Their ids are those of finalId.
 *
 * @param lessons  questions of each lesson by its slug, in the order of the course
 * @param seed     whole number; its lowest 32 bits count
 * @throws RangeError for a lesson that has not both kinds of question
 */
export function finalQuestions(lessons: Readonly<Record<string, CheckQuestions>>, seed: number): DrawnQuestion[] {
  const random = seededRandom(seed)
  const chosen = Object.entries(lessons).flatMap(([lesson, questions]) => {
    const drawn = drawnQuestions(questions, Math.floor(random() * 2 ** 32))
    return kinds.map((kind) => {
      const among = drawn.filter(({ kind: own, id }) => own === kind && !askedBefore[lesson]?.includes(id))
      const shown = among[Math.floor(random() * among.length)]
      if (!shown) throw new RangeError(`${lesson} has no question of the kind ${kind}; allowed is a lesson with both`)
      return { ...shown, id: finalId(lesson, shown.id) }
    })
  })
  return shuffled(chosen, random)
}

/** How a final check went: whether it is passed, and the lessons in which nothing was right. */
export type FinalVerdict = { right: number; of: number; passed: boolean; empty: string[] }

/** Passed with finalPassMark right answers, and in every lesson at least one of its two. */
export function finalVerdict(questions: readonly DrawnQuestion[], results: readonly boolean[]): FinalVerdict {
  const rightOnes = questions.filter((_, place) => results[place] === true)
  const lessonsOf = (some: readonly DrawnQuestion[]) => new Set(some.map(({ id }) => finalLesson(id)))
  const somethingRight = lessonsOf(rightOnes)
  const empty = [...lessonsOf(questions)].filter((lesson) => !somethingRight.has(lesson))
  const [right, of] = [rightOnes.length, questions.length]
  return { right, of, passed: right >= finalPassMark(of) && empty.length === 0, empty }
}
