import type { LessonQuestions } from './check-words.ts'

/** The questions of each lesson with their words, by the lesson's slug; fetched one lesson at a time. */
export const questionFiles: Readonly<Record<string, () => Promise<{ asked: LessonQuestions }>>> = {
  'walk-round-the-back': () => import('./lessons/walk-round.ts'),
  'small-box-long-wave': () => import('./lessons/small-box.ts'),
  'what-a-horn-holds': () => import('./lessons/horn-holds.ts'),
  'tall-and-thin': () => import('./lessons/tall-and-thin.ts'),
  'what-your-ear-makes-of-it': () => import('./lessons/ear-makes-of-it.ts'),
  'the-wall-joins-in': () => import('./lessons/wall-joins-in.ts'),
  'the-hall-fills-the-rest': () => import('./lessons/hall-fills.ts'),
  'bass-that-takes-sides': () => import('./lessons/takes-sides.ts'),
  'prove-it-with-two-microphones': () => import('./lessons/two-microphones.ts'),
  'decide-and-set-up': () => import('./lessons/decide-and-set-up.ts'),
}

/**
 * The questions of one lesson.
 *
 * @throws RangeError for a lesson that has none; rejects when their code cannot be fetched
 */
export async function loadQuestions(lesson: string): Promise<LessonQuestions> {
  const load = questionFiles[lesson]
  if (!load) throw new RangeError(`lesson is ${lesson}; allowed is ${Object.keys(questionFiles).join(' ')}`)
  return (await load()).asked
}
