import { bestOf, type LessonCheck } from '../../state/check-results.ts'
import { sheetDayText } from '../../words/day-text.ts'
import * as say from './sign-off.messages.ts'

/** A lesson as the sheet lists it. */
export type SheetLesson = { slug: string; number: number; title: string }

/** What the sheet says of one check: the best result, its day, and the last one where that was another. */
export type SheetResult = { result: string; day: string; last: string }

/** A check's line on the sheet; undefined while it has not come to its end. */
export function sheetResult(check: LessonCheck | undefined): SheetResult | undefined {
  const best = check && bestOf(check)
  if (!best) return undefined
  const { right, of, passed, on } = best
  const { done } = check
  const isLast = !done || (done.on === on && done.right === right && done.of === of)
  return {
    result: passed === undefined ? say.of({ right, all: of }) : say.finalResult({ passed, right, all: of }),
    day: sheetDayText(on),
    last: isLast ? '' : say.last({ right: done.right, all: done.of, day: sheetDayText(done.on) }),
  }
}
