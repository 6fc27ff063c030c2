import * as v from 'valibot'
import { lessonCheck, mergedCheck } from './check-results.ts'
import * as say from './course-file.messages.ts'
import { changeLessonChecks, keptLessonChecks } from './lesson-checks.ts'
import { issueWords } from './schema-words.ts'
import { cleanName, keepTrainee, keptTrainee } from './trainee.ts'

// What a reader has done of the course, as one file: out of this device, and into another one.

/** What tells this file from every other one. */
const kind = 'round-the-back-course'
/** Version of the file. */
const version = 1
/** No honest file of so few lessons is longer, characters. */
const longestFile = 200_000
const mostLessons = 100

const isSlug = (name: string) => /^[a-z0-9-]{1,80}$/.test(name)
const file = v.object({
  kind: v.literal(kind),
  version: v.literal(version),
  /** Whose results these are, if the reader has said so. */
  name: v.exactOptional(v.pipe(v.string(), v.maxLength(500))),
  lessons: v.pipe(
    v.record(v.string(), lessonCheck),
    v.check((lessons) => Object.keys(lessons).every(isSlug), say.noLesson()),
    v.check((lessons) => Object.keys(lessons).length <= mostLessons, say.tooManyLessons()),
  ),
})
type CourseFile = v.InferOutput<typeof file>

/** What this device keeps of the course, as the text of one file. */
export function exportCourse(): string {
  const name = keptTrainee()
  const written: CourseFile = { kind, version, ...(name && { name }), lessons: keptLessonChecks().checks }
  return `${JSON.stringify(written, null, 2)}\n`
}

/** What became of a file: how many checks it has brought or bettered, of how many; or in words why nothing was taken in. */
export type CourseImport = { changed: number; of: number; problem: string }

/**
 * Takes a file into what this device keeps, in turn with other tabs. Of each check the better and the later result stay, whichever
 * device they come from; a check that is going on here goes on. A file that cannot be read whole, or that bears another name than
 * the one here, changes nothing. Never rejects.
 */
export async function importCourse(text: string): Promise<CourseImport> {
  const refused = (problem: string): CourseImport => ({ changed: 0, of: 0, problem })
  const read = readCourse(text)
  if (typeof read === 'string') return refused(read)
  const [here, theirs] = [keptTrainee(), cleanName(read.name ?? '')]
  if (here && theirs && here !== theirs) return refused(say.otherName({ here, theirs }))
  const lessons = Object.keys(read.lessons)
  let changed = 0
  const problem = await changeLessonChecks(lessons, (lesson, before) => {
    const merged = mergedCheck(before, read.lessons[lesson] ?? {})
    if (JSON.stringify(sorted(merged)) !== JSON.stringify(sorted(before))) changed += 1
    return merged
  })
  if (problem) return refused(problem)
  if (theirs && !here && !(await keepTrainee(theirs))) return refused(say.nameNotKept())
  return { changed, of: lessons.length, problem: '' }
}

/** The content of a file, or in words why it is none of ours. */
function readCourse(text: string): CourseFile | string {
  if (text.length > longestFile) return say.tooLong()
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    return say.notJson()
  }
  const head = v.safeParse(v.object({ kind: v.literal(kind), version: v.pipe(v.number(), v.integer()) }), value)
  if (!head.success) return say.otherKind()
  if (head.output.version > version) return say.newer()
  const read = v.safeParse(file, value)
  return read.success ? read.output : say.notWhole({ reason: issueWords(read.issues[0]) })
}

/** The same value with its keys in order, so that two can be compared. */
const sorted = (value: object): [string, unknown][] =>
  Object.entries(value)
    .map(([key, part]): [string, unknown] => [
      key,
      typeof part === 'object' && part !== null && !Array.isArray(part) ? sorted(part) : part,
    ])
    .sort(([a], [b]) => a.localeCompare(b, 'en'))
