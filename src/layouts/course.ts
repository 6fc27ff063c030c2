/** What the course needs of a lesson. */
type InCourse = { id: string; data: { order: number; minutes: number; extra?: boolean | undefined } }

/** The lessons in order, what is offered beside them, and how long the lessons take together, minutes. */
export type Course<L extends InCourse> = { lessons: L[]; extras: L[]; minutes: number }

/** Where a reader stands: the number of the lesson, none for an extra, and where to go from there. */
export type CoursePlace<L extends InCourse> = {
  number: number | undefined
  previous: L | undefined
  next: L | undefined
  /** What is offered after this lesson. */
  extras: L[]
}

/** The course, made of whatever lessons there are. */
export function courseOf<L extends InCourse>(all: readonly L[]): Course<L> {
  const ordered = all.toSorted((a, b) => a.data.order - b.data.order || a.id.localeCompare(b.id, 'en'))
  const lessons = ordered.filter(({ data }) => !data.extra)
  const minutes = lessons.reduce((sum, { data }) => sum + data.minutes, 0)
  return { lessons, extras: ordered.filter(({ data }) => data.extra), minutes }
}

/** A lesson's place. An extra stands between the lesson that it goes on from and the one after that. */
export function placeIn<L extends InCourse>({ lessons, extras }: Course<L>, lesson: L): CoursePlace<L> {
  const { order, extra } = lesson.data
  const index = lessons.findIndex(({ data }) => data.order === order)
  return {
    number: extra ? undefined : index + 1,
    previous: lessons[extra ? index : index - 1],
    next: lessons[index + 1],
    extras: extra ? [] : extras.filter(({ data }) => data.order === order),
  }
}
