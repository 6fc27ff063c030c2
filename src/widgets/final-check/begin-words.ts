import { finalCheckName, keptLessonCheck } from '../../state/lesson-checks.ts'
import * as say from './final-check.messages.ts'

/** What the button says that begins the final check, or goes on with it, by what this device keeps. */
export function beginWords(all: number): string {
  const { going } = keptLessonCheck(finalCheckName).check
  const answered = going?.of === all ? going.results.length : 0
  if (answered === 0) return say.begin()
  return answered < all ? say.goOn({ number: answered + 1, all }) : say.seeResult()
}
