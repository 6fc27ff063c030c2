import { bestOf } from '../../state/check-results.ts'
import { keptLessonCheck, type LessonCheck } from '../../state/lesson-checks.ts'
import { dayText } from '../../words/day-text.ts'
import * as say from './self-check.messages.ts'

/** What the course's list says of a check, or '' while there is nothing: of a lesson's the last result, of the final one the best. */
export function checkedText(check: LessonCheck, now?: Date): string {
  const { done, going } = check
  const isOpen = going && going.results.length > 0 && going.results.length < going.of
  const best = bestOf(check)
  if (best?.passed !== undefined) {
    return say.finalOn({ passed: best.passed, right: best.right, all: best.of, day: dayText(best.on, now) })
  }
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
