import * as v from 'valibot'

// What is kept of one check, a lesson's or the final one, and which of two results is worth more.

const mostQuestions = 50
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(mostQuestions))
const isDay = (text: string) => !Number.isNaN(Date.parse(text))

/** A check that was answered to its end: how many were right, of how many, the day, as 2026-11-29, and whether it is passed, if it can be. */
const checkResult = v.pipe(
  v.object({
    right: count,
    of: v.pipe(count, v.minValue(1)),
    on: v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/), v.check(isDay)),
    passed: v.exactOptional(v.boolean()),
  }),
  v.check(({ right, of }) => right <= of),
)

export const lessonCheck = v.object({
  /** The last one that came to its end. */
  done: v.exactOptional(checkResult),
  /** The best one that came to its end; not there where there was only one, or where an older page wrote. */
  best: v.exactOptional(checkResult),
  /** The one that is going on, or whose end still stands there: the seed of its numbers, and each answer's being right. */
  going: v.exactOptional(
    v.pipe(
      v.object({
        seed: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(2 ** 32 - 1)),
        of: v.pipe(count, v.minValue(1)),
        results: v.pipe(v.array(v.boolean()), v.maxLength(mostQuestions)),
      }),
      v.check(({ of, results }) => results.length <= of),
    ),
  ),
})

export type CheckResult = v.InferOutput<typeof checkResult>
export type LessonCheck = v.InferOutput<typeof lessonCheck>
type Going = NonNullable<LessonCheck['going']>

const byShare = (a: CheckResult, b: CheckResult) => a.right / a.of - b.right / b.of
const passRank = ({ passed }: CheckResult) => (passed === undefined ? 0 : passed ? 2 : 1)
const byPass = (a: CheckResult, b: CheckResult) => passRank(a) - passRank(b)
const byDay = (a: CheckResult, b: CheckResult) => a.on.localeCompare(b.on, 'en')
const bySize = (a: CheckResult, b: CheckResult) => a.of - b.of

/** Chooses one of two results by the first comparison that tells them apart; one that is missing is never chosen. */
const chosen =
  (...comparisons: ((a: CheckResult, b: CheckResult) => number)[]) =>
  (a: CheckResult | undefined, b: CheckResult | undefined): CheckResult | undefined => {
    if (!a || !b) return a ?? b
    return (comparisons.map((compare) => compare(a, b)).find((sign) => sign !== 0) ?? 0) < 0 ? b : a
  }

/** The better of two results: passed before not passed, then more right; of equal ones the later. */
export const betterResult = chosen(byPass, byShare, byDay, bySize)
/** The later of two results; of one day the better, because the hour is not kept. */
export const laterResult = chosen(byDay, byPass, byShare, bySize)

/** The best result that is kept of a check. */
export const bestOf = ({ done, best }: LessonCheck): CheckResult | undefined => betterResult(best, done)

const isOpen = ({ results, of }: Going) => results.length > 0 && results.length < of

/** The check that goes on of two: of the same numbers the one that is further, else the one with answers; what is here comes first. */
function goingOn(here: Going | undefined, other: Going | undefined): Going | undefined {
  if (!here || !other) return here ?? other
  if (here.seed === other.seed && here.of === other.of) return other.results.length > here.results.length ? other : here
  return isOpen(other) && !isOpen(here) ? other : here
}

/**
 * What is kept of a check here and on another device, as one: the better and the later result of both are kept.
 *
 * @param here   what this device keeps; a check that is going on here stays
 * @param other  what a file brings
 */
export function mergedCheck(here: LessonCheck, other: LessonCheck): LessonCheck {
  const [done, going] = [laterResult(here.done, other.done), goingOn(here.going, other.going)]
  const best = betterResult(bestOf(here), bestOf(other))
  return { ...(done && { done }), ...(best && best !== done && { best }), ...(going && { going }) }
}

/** The entry with one more check come to its end. */
export function withDone(before: LessonCheck, done: CheckResult): LessonCheck {
  const { best: _, ...rest } = before
  const best = betterResult(done, bestOf(before))
  return { ...rest, done, ...(best && best !== done && { best }) }
}
