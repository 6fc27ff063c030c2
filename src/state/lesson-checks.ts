import * as v from 'valibot'
import { inTurn } from './in-turn.ts'
import * as say from './lesson-checks.messages.ts'
import { lessonChecksKey } from './lesson-checks-change.ts'

// What the device keeps of the self-checks at the end of lessons: how the last whole one went, and the one that is going on.

/** Version of the stored form. */
const version = 1
const mostQuestions = 50

const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(mostQuestions))
const isDay = (text: string) => !Number.isNaN(Date.parse(text))
const lessonCheck = v.pipe(
  v.object({
    /** The last check that was answered to its end: how many were right, of how many, and the day, as 2026-11-29. */
    done: v.optional(
      v.pipe(
        v.object({
          right: count,
          of: v.pipe(count, v.minValue(1)),
          on: v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/), v.check(isDay)),
        }),
        v.check(({ right, of }) => right <= of),
      ),
    ),
    /** The one that is going on, or whose end still stands there: the seed of its numbers, and each answer's being right. */
    going: v.optional(
      v.pipe(
        v.object({
          seed: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(2 ** 32 - 1)),
          of: v.pipe(count, v.minValue(1)),
          results: v.pipe(v.array(v.boolean()), v.maxLength(mostQuestions)),
        }),
        v.check(({ of, results }) => results.length <= of),
      ),
    ),
  }),
)
const stored = v.object({ version: v.literal(version), lessons: v.record(v.string(), v.unknown()) })

export type LessonCheck = v.InferOutput<typeof lessonCheck>

/** What stands in the store: every lesson's entry, those that cannot be read as they are; or in words why nothing can be used. */
type Stored = { lessons: Record<string, unknown>; problem: string; isNewer: boolean; text: string | null }

function storedChecks(): Stored {
  const nothing: Stored = { lessons: {}, problem: '', isNewer: false, text: null }
  let text: string | null
  try {
    text = localStorage.getItem(lessonChecksKey)
  } catch {
    return { ...nothing, problem: say.notKept() }
  }
  if (text === null) return nothing
  try {
    const value: unknown = JSON.parse(text)
    const head = v.safeParse(v.object({ version: v.pipe(v.number(), v.integer()) }), value)
    if (head.success && head.output.version > version) return { ...nothing, text, problem: say.newer(), isNewer: true }
    return { ...nothing, text, lessons: v.parse(stored, value).lessons }
  } catch {
    return { ...nothing, text, problem: say.unread() }
  }
}

/** One lesson's entry; empty if there is none that can be read. */
function entryOf(lessons: Record<string, unknown>, lesson: string): LessonCheck {
  const read = v.safeParse(lessonCheck, Object.hasOwn(lessons, lesson) ? lessons[lesson] : {})
  return read.success ? read.output : {}
}

/** What is kept of one lesson, and in words why it cannot be read, or ''. Never throws. */
export function keptLessonCheck(lesson: string): { check: LessonCheck; problem: string } {
  const { lessons, problem } = storedChecks()
  return { check: entryOf(lessons, lesson), problem }
}

/**
 * Changes what is kept of one lesson, in turn with other tabs; the other lessons stay. Never rejects.
 *
 * @param lesson  the lesson's slug
 * @param shown   what this page shows, for a browser that keeps nothing
 * @param change  gives the entry as it is to be
 * @returns       the entry as it now is, and why it is not kept, or ''
 */
export function changeLessonCheck(
  lesson: string,
  shown: LessonCheck,
  change: (before: LessonCheck) => LessonCheck,
): Promise<{ check: LessonCheck; problem: string }> {
  return inTurn(lessonChecksKey, () => {
    const { lessons, problem, isNewer, text } = storedChecks()
    if (isNewer) return { check: change(shown), problem }
    const changed = change(Object.hasOwn(lessons, lesson) ? entryOf(lessons, lesson) : shown)
    try {
      // A text that cannot be read is set aside, not lost.
      if (problem && text !== null) localStorage.setItem(`${lessonChecksKey}.unread`, text)
      const written = JSON.stringify({ version, lessons: { ...lessons, [lesson]: changed } })
      localStorage.setItem(lessonChecksKey, written)
      const isKept = localStorage.getItem(lessonChecksKey) === written
      return { check: changed, problem: isKept ? '' : say.notKept() }
    } catch {
      return { check: changed, problem: say.notKept() }
    }
  })
}
