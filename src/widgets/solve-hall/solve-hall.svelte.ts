import type { PlanPoint } from '../../acoustics/index.ts'
import { type LessonHallKey, lessonHall } from '../../engine/questions/plan/lesson-halls.ts'
import { farthestMissed, type GoalResult, goalResults } from '../../engine/questions/plan/plan-goals.ts'
import type { PlanHint } from '../../engine/questions/plan/plan-hint.ts'
import type { NeighbourAnswer, PlanAnswer } from '../../engine/questions/plan/plan-terms.ts'
import { type InAir, usualAir } from '../../engine/scene/air.ts'
import * as edits from '../../state/plan-edits.ts'
import { planFaults } from '../../state/plan-faults.ts'
import { beginHistory, type PlanHistory, redo, rest, take, undo } from '../../state/plan-history.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import * as words from '../../words/words.messages.ts'
import type { Asked, Asking } from '../figure/asked.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { neighbourQuestion, type OfferedBox, offeredBoxes, planKnown, planQuestion } from '../plan/plan-question.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { lessonPlan, solvedPlan } from './lesson-plans.ts'
import { type SolveHallState, solveHallLink } from './solve-hall-link.ts'

/** What is worked out of a plan: who gets what, what comes outside, and what makes the bass where most is missing. */
export type SolveAnswer = {
  answer: PlanAnswer
  neighbour: NeighbourAnswer | undefined
  hint: PlanHint | undefined
}
type SolveQuestion = InAir & { hall: LessonHallKey; plan: Plan }

/** After so many changes the reader may see one way. */
export const triesFirst = 2

/** Three halls to solve: the reader's plan of each, what it gives, and how far that is from what is wanted. */
export class SolveHall extends LiveFigure<SolveHallState> {
  readonly boxes: OfferedBox[]
  readonly known: PlanKnown
  readonly answer: Asked<SolveQuestion, SolveAnswer>
  /** Why the last change was not done, or ''. */
  refused = $state('')
  boxId = $state('c3')
  #histories: Partial<Record<LessonHallKey, PlanHistory>> = $state.raw({})

  protected override get atHand() {
    return ['hall'] as const
  }

  /** @param built  the answers to each hall as it begins, in the usual air, worked out when the page was built */
  constructor(rigs: RigChoice[], base: SolveHallState, built: Record<LessonHallKey, SolveAnswer>) {
    super(solveHallLink, base)
    this.boxes = offeredBoxes($state.snapshot(rigs) as RigChoice[])
    this.known = planKnown(this.boxes)
    const begun = $state.snapshot(built) as Record<LessonHallKey, SolveAnswer>
    this.answer = this.works<SolveQuestion, SolveAnswer>(
      () => ({ hall: this.hall, plan: this.plan }),
      async (asking, question) => {
        const isBegun =
          JSON.stringify(question.plan) === JSON.stringify(lessonPlan(question.hall)) &&
          JSON.stringify(question.air) === JSON.stringify(usualAir)
        return isBegun ? begun[question.hall] : this.#ask(asking, question)
      },
      { what: words.answer(), keep: 40, first: begun[base.hall] },
    )
  }

  async #ask(
    { ask, show }: Asking<SolveAnswer>,
    { hall, plan, ...inAir }: SolveQuestion,
  ): Promise<SolveAnswer | undefined> {
    const question = { ...planQuestion(plan, this.boxes), ...inAir }
    const answer = await ask('planAnswer', question)
    if (!answer) return undefined
    const through = neighbourQuestion(plan, this.boxes)
    const neighbour = through && (await ask('planNeighbour', { ...through, ...inAir }))
    if (through && !neighbour) return undefined
    const told = { answer, neighbour, hint: undefined }
    const missed = farthestMissed(goalResults(lessonHall(hall).goals, answer, neighbour))
    if (!missed || missed.goal.kind === 'neighbourAtMost') return told
    show(told)
    const hint = await ask('planHint', { ...question, placeId: missed.goal.place })
    return hint && { ...told, hint }
  }

  get hall(): LessonHallKey {
    return this.state.hall
  }
  #history: PlanHistory = $derived.by(() => this.#histories[this.hall] ?? beginHistory(lessonPlan(this.hall)))
  get plan(): Plan {
    return this.#history.now
  }
  movable = $derived.by(() => lessonHall(this.hall).movable)
  box = $derived.by(() => this.plan.cabinets.find(({ id }) => id === this.boxId) ?? this.plan.cabinets[0])
  canUndo = $derived.by(() => this.#history.before.length > 0)
  canRedo = $derived.by(() => this.#history.after.length > 0)
  /** How often the reader has changed this hall. */
  tries = $derived.by(() => this.#history.before.length)

  /** How the plan that was answered does by the goals of its hall. */
  results: GoalResult[] = $derived.by(() => {
    const { answer, neighbour } = this.answer.value
    return goalResults(lessonHall(this.answer.question.hall).goals, answer, neighbour)
  })

  boxName(key: string): string {
    return this.boxes.find((box) => box.key === key)?.name ?? key
  }
  /** Why a change cannot be done, in words; undefined if it can. */
  faultOf(edit: (plan: Plan) => Plan): string | undefined {
    return planFaults(edit(this.plan), this.known)[0]
  }
  /** Changes the plan, or tells why not and leaves it. Changes of the same thing that go on are one step. */
  change(edit: (plan: Plan) => Plan, of = ''): void {
    const next = edit(this.plan)
    const fault = planFaults(next, this.known)[0]
    this.refused = fault ?? ''
    if (fault === undefined) this.#take(take(this.#history, next, of))
  }
  /** Moves a box or a place as far as it may. */
  slide(id: string, to: PlanPoint, isDrag: boolean): void {
    const edit = edits.slideEdit(this.plan, id, to, (way) => this.faultOf(way) === undefined)
    if (!edit) return
    this.change(edit, isDrag ? `drag ${id}` : '')
    if (edits.isCabinet(id)) this.boxId = id
  }
  rest(): void {
    this.#take(rest(this.#history))
    this.refused = ''
  }
  undo(): void {
    this.#take(undo(this.#history))
  }
  redo(): void {
    this.#take(redo(this.#history))
  }
  /** One way that meets all goals; what the reader had is a step back. */
  showOne(): void {
    this.change(() => solvedPlan(this.hall))
  }
  startAgain(): void {
    this.change(() => lessonPlan(this.hall))
  }

  #take(history: PlanHistory): void {
    if (history !== this.#history) this.#histories = { ...this.#histories, [this.hall]: history }
  }
}
