import { answerRange, type ComputedQuestion } from '../../engine/questions/check/check-terms.ts'
import { type DrawnQuestion, isRight } from '../../engine/questions/check/drawn-check.ts'
import { airOf } from '../../engine/scene/air.ts'
import { type CheckResult, withDone } from '../../state/check-results.ts'
import { changeLessonCheck, keptLessonCheck, type LessonCheck } from '../../state/lesson-checks.ts'
import { onLessonChecksChange } from '../../state/lesson-checks-change.ts'
import { type LengthUnit, onPreferencesChange, preferences } from '../../state/preferences.ts'
import type { SiteAir } from '../../state/site-air.ts'
import { typedProblem } from '../../words/measures.ts'
import { answerMeasure } from './answer-measures.ts'
import type { CheckPlan } from './check-plan.ts'
import * as say from './self-check.messages.ts'

/** What became of the question that is shown. The air is kept with it: its numbers belong to it. */
export type CheckVerdict = { isRight: boolean; given: number; choice: string; air: SiteAir }

/** A seed that no reader has seen. */
const freshSeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0] ?? 0

/** The day where the reader is, as it is kept: '2026-11-29'. */
const today = (): string => {
  const now = new Date()
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-')
}

/** A check as it goes on, a lesson's or the final one: one question at a time, each answer kept on the device as it is given. */
export class SelfCheckState {
  readonly plan: CheckPlan
  /** How many questions there are. */
  readonly all: number

  units: LengthUnit = $state('m')
  air: SiteAir = $state.raw(preferences())
  seed: number = $state(0)
  /** The answers of this check so far, right or not. */
  results: boolean[] = $state.raw([])
  done: LessonCheck['done'] = $state.raw()
  verdict: CheckVerdict | undefined = $state.raw()
  /** What is typed, in the unit of the answer; NaN while there is nothing to read. */
  given: number = $state(Number.NaN)
  choice: string = $state('')
  /** Why the answer is not taken. */
  problem: string = $state('')
  /** Why answers are not kept. */
  notKept: string = $state('')

  constructor(plan: CheckPlan) {
    this.plan = plan
    this.all = plan.all
    this.seed = freshSeed()
    this.#takeOver()
  }

  drawn = $derived.by((): DrawnQuestion[] => this.plan.drawn(this.seed))
  /** The question that is shown: the one just judged, or the first without an answer; none at the end. */
  shown = $derived.by(() => this.drawn[this.results.length - (this.verdict ? 1 : 0)])
  /** Where to look again after wrong answers, each place once, in the order of the course. */
  lookAgain = $derived.by(() => {
    const wrong = this.drawn.filter((_, place) => this.results[place] === false).map(this.plan.placeOf)
    const places = new Map(wrong.map((place) => [place.href, place]))
    return [...places.values()].sort((a, b) => a.order - b.order)
  })
  right = $derived.by(() => this.results.filter(Boolean).length)

  /** Follows the reader's units and air, and other tabs; returns the function that ends it. */
  follow(): () => void {
    const follow = () => {
      const { units, temperatureC, humidityPct } = preferences()
      this.units = units
      this.air = { temperatureC, humidityPct }
    }
    follow()
    const ends = [
      onPreferencesChange(follow),
      onLessonChecksChange(() => {
        // What is being read here stays.
        if (!this.verdict) this.#takeOver()
      }),
    ]
    return () => {
      for (const end of ends) end()
    }
  }

  /** Judges the answer, or says why it cannot be taken; keeps the result. */
  async check(): Promise<void> {
    const { shown } = this
    if (!shown || this.verdict) return
    this.problem = this.#problemOf(shown)
    if (this.problem) return
    const right =
      shown.kind === 'computed'
        ? isRight(shown.question, shown.values, airOf(this.air), this.given)
        : this.choice === shown.question.right
    this.verdict = { isRight: right, given: this.given, choice: this.choice, air: { ...this.air } }
    this.results = [...this.results, right]
    const isLast = this.results.length === this.all
    if (isLast) {
      const passed = this.plan.isPassed?.(this.drawn, this.results)
      this.done = { right: this.right, of: this.all, on: today(), ...(passed !== undefined && { passed }) }
    }
    await this.#keep(isLast ? this.done : undefined)
  }

  /** Goes on to the next question, or to the end. */
  next(): void {
    this.verdict = undefined
    this.#forgetAnswer()
    // What another tab did while this answer was read.
    if (!this.notKept) this.#takeOver()
  }

  /** Begins anew with other numbers. */
  async again(): Promise<void> {
    this.verdict = undefined
    this.#forgetAnswer()
    this.seed = freshSeed()
    this.results = []
    await this.#keep()
  }

  #problemOf(shown: DrawnQuestion): string {
    if (shown.kind === 'judgement') return this.choice ? '' : say.notYetChosen()
    const { answer }: ComputedQuestion = shown.question
    return typedProblem(this.given, answerMeasure(answer, this.units), answerRange[answer]) ?? ''
  }

  #forgetAnswer(): void {
    this.given = Number.NaN
    this.choice = ''
    this.problem = ''
  }

  /** Takes over what the device keeps, if it is of the same questions. */
  #takeOver(): void {
    const { check, problem } = keptLessonCheck(this.plan.name)
    this.notKept = problem
    this.done = check.done ?? this.done
    const { going } = check
    if (going?.of !== this.all) return
    const isSame = going.seed === this.seed && going.results.length === this.results.length
    this.seed = going.seed
    this.results = going.results
    if (!isSame) this.#forgetAnswer()
  }

  async #keep(done?: CheckResult): Promise<void> {
    const going = { seed: this.seed, of: this.all, results: this.results }
    const shown: LessonCheck = { going, ...(this.done && { done: this.done }) }
    const { problem } = await changeLessonCheck(this.plan.name, shown, (before) => {
      // Of two tabs that answer the same question the first counts.
      const isAhead = before.going?.seed === going.seed && before.going.results.length > going.results.length
      const after = { ...before, going: isAhead ? before.going : going }
      return done ? withDone(after, done) : after
    })
    this.notKept = problem
  }
}
