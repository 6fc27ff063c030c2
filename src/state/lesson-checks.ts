import * as v from 'valibot'
import { type LessonCheck, lessonCheck } from './check-results.ts'
import { inTurn } from './in-turn.ts'
import { keepText, storedText, versionedJson } from './kept-text.ts'
import * as say from './lesson-checks.messages.ts'
import { lessonChecksKey } from './lesson-checks-change.ts'

// What the device keeps of the self-checks at the end of lessons and of the final check.

/** Version of the stored form. */
const version = 1
const stored = v.object({ lessons: v.record(v.string(), v.unknown()) })

export type { LessonCheck } from './check-results.ts'

/** Under which name the final check stands among the lessons. No lesson is called that: its page would stand in the way. */
export const finalCheckName = 'final-check'

/** What stands in the store: every lesson's entry, those that cannot be read as they are; or in words why nothing can be used. */
type Stored = { lessons: Record<string, unknown>; problem: string; isNewer: boolean; text: string | null }

function storedChecks(): Stored {
  const nothing: Stored = { lessons: {}, problem: '', isNewer: false, text: null }
  const text = storedText(lessonChecksKey)
  if (text === undefined) return { ...nothing, problem: say.notKept() }
  if (text === null) return nothing
  const json = versionedJson(text, version)
  if (json === 'newer') return { ...nothing, text, problem: say.newer(), isNewer: true }
  const read = v.safeParse(stored, typeof json === 'string' ? json : json.value)
  return read.success ? { ...nothing, text, lessons: read.output.lessons } : { ...nothing, text, problem: say.unread() }
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

/** All entries that can be read, by lesson, and in words why nothing can, or ''. Never throws. */
export function keptLessonChecks(): { checks: Record<string, LessonCheck>; problem: string } {
  const { lessons, problem } = storedChecks()
  const read = Object.keys(lessons).map((lesson): [string, LessonCheck] => [lesson, entryOf(lessons, lesson)])
  return { checks: Object.fromEntries(read.filter(([, check]) => Object.keys(check).length > 0)), problem }
}

/**
 * Changes what is kept of one lesson, in turn with other tabs; the other lessons stay. Never rejects.
 *
 * @param lesson  the lesson's slug
 * @param shown   what this page shows, for a browser that keeps nothing
 * @param change  gives the entry as it is to be
 * @returns       the entry as it now is, and why it is not kept, or ''
 */
export async function changeLessonCheck(
  lesson: string,
  shown: LessonCheck,
  change: (before: LessonCheck) => LessonCheck,
): Promise<{ check: LessonCheck; problem: string }> {
  let check = shown
  const problem = await changeStored(
    (lessons) => {
      check = change(Object.hasOwn(lessons, lesson) ? entryOf(lessons, lesson) : shown)
      return { [lesson]: check }
    },
    () => {
      check = change(shown)
    },
  )
  return { check, problem }
}

/**
 * Changes several entries at once, in turn with other tabs; those that are not given stay as they are. Never rejects.
 *
 * @param change  of what is kept of a lesson ({} where there is nothing) to what is to be kept
 * @returns       why nothing is kept, or ''
 */
export const changeLessonChecks = (
  lessons: readonly string[],
  change: (lesson: string, before: LessonCheck) => LessonCheck,
): Promise<string> =>
  changeStored((kept) => Object.fromEntries(lessons.map((lesson) => [lesson, change(lesson, entryOf(kept, lesson))])))

/** Reads, changes and writes in one turn. `otherwise` is called instead where what stands there must stay as it is. */
function changeStored(
  change: (lessons: Record<string, unknown>) => Record<string, LessonCheck>,
  otherwise: () => void = () => {},
): Promise<string> {
  return inTurn(lessonChecksKey, () => {
    const { lessons, problem, isNewer, text } = storedChecks()
    if (isNewer) {
      otherwise()
      return problem
    }
    const written = JSON.stringify({ version, lessons: { ...lessons, ...change(lessons) } })
    return keepText(lessonChecksKey, written, problem ? text : null) && say.notKept()
  })
}
