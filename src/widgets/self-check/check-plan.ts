import { type DrawnQuestion, drawnQuestions } from '../../engine/questions/check/drawn-check.ts'
import type { LessonQuestions } from './check-words.ts'

/** Where the way to an answer stands: its address, its heading in words, and its place among others. */
export type AnswerPlace = { href: string; heading: string; order: number }

/** What a check asks, how it is kept, and where the ways to its answers stand. */
export type CheckPlan = {
  /** Under which name the device keeps it. */
  name: string
  words: Pick<LessonQuestions, 'computed' | 'judgement'>
  /** How many questions are asked. */
  all: number
  /** The questions of one seed, in the order in which they are asked. */
  drawn: (seed: number) => DrawnQuestion[]
  placeOf: (shown: DrawnQuestion) => AnswerPlace
  /** Whether so many answers pass; not there where there is nothing to pass. */
  isPassed?: (drawn: readonly DrawnQuestion[], results: readonly boolean[]) => boolean
}

/** The self-check of a lesson on the lesson's own page, whose headings are told in their own words. */
export function lessonPlan(lesson: string, asked: LessonQuestions): CheckPlan {
  const anchors = [...new Set(Object.values(asked.questions).map(({ anchor }) => anchor))]
  return {
    name: lesson,
    words: asked,
    all: Object.keys(asked.questions).length,
    drawn: (seed) => drawnQuestions(asked.questions, seed),
    placeOf: ({ question: { anchor } }) => ({
      href: `#${anchor}`,
      heading: document.getElementById(anchor)?.textContent.trim() ?? anchor,
      order: anchors.indexOf(anchor),
    }),
  }
}
