import { keptLessonCheck, type LessonCheck } from '../../state/lesson-checks.ts'
import { dayText } from './day-text.ts'
import * as say from './self-check.messages.ts'

/** What the course's list says of a lesson's check, or '' while there is nothing. */
export function checkedText({ done, going }: LessonCheck, now?: Date): string {
  const isOpen = going && going.results.length > 0 && going.results.length < going.of
  if (done) return say.checkedOn({ right: done.right, all: done.of, day: dayText(done.on, now) })
  return isOpen ? say.answeredSoFar({ answered: going.results.length, all: going.of }) : ''
}

/** Fills the lines of the course's list. */
export function showCheckedLines(): void {
  for (const line of document.querySelectorAll<HTMLElement>('[data-checked]')) {
    line.textContent = checkedText(keptLessonCheck(line.dataset['checked'] ?? '').check)
    line.hidden = line.textContent === ''
  }
}
