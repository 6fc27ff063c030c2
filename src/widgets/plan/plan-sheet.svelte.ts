import type { PlanPoint } from '../../acoustics/index.ts'
import type {
  NeighbourAnswer,
  NeighbourQuestion,
  PlanAnswer,
  PlanQuestion,
} from '../../engine/questions/plan/plan-terms.ts'
import * as edits from '../../state/plan-edits.ts'
import { planFaults } from '../../state/plan-faults.ts'
import { keepPlan, keptPlan, onPlanChange, readPlan } from '../../state/plan-file.ts'
import { beginHistory, type PlanHistory, redo, rest, take, undo } from '../../state/plan-history.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { type FoundMove, foundMoves } from './found-moves.ts'
import { grangePlan } from './grange-plan.ts'
import * as say from './plan.messages.ts'
import { type PlanLinkState, planLink } from './plan-link.ts'
import { neighbourQuestion, type OfferedBox, offeredBoxes, planKnown, planQuestion } from './plan-question.ts'

/** How long a plan rests before it is kept, ms: a drag is not written at each step. */
const restMs = 400

/** For which plan and which place moves are looked for. */
export type MovesQuestion = { plan: Plan; placeId: string }

/** The reader's plan: the document with its ways back, what is answered for it, and what the device keeps. */
export class PlanSheet extends LiveFigure<PlanLinkState> {
  readonly boxes: OfferedBox[]
  readonly known: PlanKnown
  readonly answer: Asked<PlanQuestion, PlanAnswer, Plan>
  readonly neighbour: Asked<NeighbourQuestion, NeighbourAnswer, Plan>
  /** What can be moved, found when the reader asks for it, the best first. */
  readonly moves: Asked<MovesQuestion, FoundMove[]>
  /** What was tried last, and the plan before it. */
  tried: { move: FoundMove; before: Plan } | undefined = $state.raw()
  /** Where there is to be less bass. */
  quietId = $state('p2')

  #history: PlanHistory = $state.raw(beginHistory(grangePlan()))
  /** Why the last change was not done, or ''. */
  refused = $state('')
  /** What else there is to tell: of files and of the device. */
  note = $state('')
  keepingProblem = $state('')
  /** Which box and which place the fields show. */
  boxId = $state('c1')
  placeId = $state('p1')
  #keeping: ReturnType<typeof setTimeout> | undefined
  /** Whether the plan is the reader's: what a page begins with is not kept. */
  #isTouched = false

  constructor(rigs: RigChoice[], initial: PlanAnswer, initialNeighbour: NeighbourAnswer) {
    super(planLink, { units: 'own' })
    this.boxes = offeredBoxes($state.snapshot(rigs) as RigChoice[])
    this.known = planKnown(this.boxes)
    this.answer = this.asks(
      'planAnswer',
      () => (this.plan.cabinets.length > 0 ? planQuestion(this.plan, this.boxes) : undefined),
      { what: say.answer(), first: initial, about: () => this.plan },
    )
    this.neighbour = this.asks(
      'planNeighbour',
      () => (this.plan.cabinets.length > 0 ? neighbourQuestion(this.plan, this.boxes) : undefined),
      { what: say.neighbourAnswer(), first: initialNeighbour, about: () => this.plan },
    )
    this.moves = this.works(
      // While a move is tried the list that it comes from stays.
      () => ({
        plan: this.tried && this.tried.move.plan === this.plan ? this.tried.before : this.plan,
        placeId: this.quiet?.id ?? '',
      }),
      (asking, question) => foundMoves(asking, question, this.boxes, this.known),
      { what: say.moves(), when: 'pressed' },
    )
  }

  /** Tries a move: one step, and one back. */
  try(move: FoundMove): void {
    const before = this.plan
    if (this.change(() => move.plan)) this.tried = { move, before }
  }
  /** Goes back to the plan before the move that was tried. */
  goBack(): void {
    const { tried } = this
    if (tried) this.change(() => tried.before)
    this.tried = undefined
  }

  get plan(): Plan {
    return this.#history.now
  }
  canUndo = $derived.by(() => this.#history.before.length > 0)
  canRedo = $derived.by(() => this.#history.after.length > 0)
  box = $derived.by(() => this.plan.cabinets.find(({ id }) => id === this.boxId) ?? this.plan.cabinets[0])
  place = $derived.by(() => this.plan.places.find(({ id }) => id === this.placeId) ?? this.plan.places[0])

  /** The place where there is to be less bass: any but the main one. */
  quiet = $derived.by(
    () =>
      this.plan.places.find(({ id }) => id === this.quietId && id !== this.plan.mainPlace) ??
      this.plan.places.find(({ id }) => id !== this.plan.mainPlace),
  )

  boxName(key: string): string {
    return (
      this.boxes.find((box) => box.key === key)?.name ?? this.plan.ownBoxes.find((box) => box.key === key)?.name ?? key
    )
  }

  /** Why a change cannot be done, in words; undefined if it can. */
  faultOf(edit: (plan: Plan) => Plan): string | undefined {
    return planFaults(edit(this.plan), this.known)[0]
  }

  /**
   * Changes the plan, or tells why not and leaves it as it is.
   *
   * @param of  what is changed, for changes that go on: see take
   * @returns   whether it was done
   */
  change(edit: (plan: Plan) => Plan, of = ''): boolean {
    const next = edit(this.plan)
    if (next === this.plan) return true
    const [fault] = planFaults(next, this.known)
    this.refused = fault ?? ''
    if (fault !== undefined) return false
    this.#history = take(this.#history, next, of)
    this.#keep()
    return true
  }

  /** Moves something as far as it may: along a wall or a box where it is in the way. */
  slide(id: string, to: PlanPoint, of: string): void {
    const isBox = id.startsWith('c')
    const now = (isBox ? this.plan.cabinets : this.plan.places).find((each) => each.id === id)
    if (!now) return
    const edit = (at: PlanPoint) => (plan: Plan) =>
      isBox ? edits.moveCabinet(plan, id, at) : edits.movePlace(plan, id, at)
    const ways = [to, { xM: to.xM, zM: now.zM }, { xM: now.xM, zM: to.zM }]
    const free = ways.find((at) => this.faultOf(edit(at)) === undefined)
    this.change(edit(free ?? to), of)
    if (isBox) this.boxId = id
    else this.placeId = id
  }

  /** A hand was lifted: what comes is a step of its own. */
  rest(): void {
    this.#history = rest(this.#history)
    this.refused = ''
  }
  undo(): void {
    this.#history = undo(this.#history)
    this.#keep()
  }
  redo(): void {
    this.#history = redo(this.#history)
    this.#keep()
  }

  /** Takes the plan of a file; what is there now is a step back. */
  open(text: string): void {
    const read = readPlan(text, this.known)
    if (typeof read === 'string') this.note = say.notOpened({ reason: read })
    else {
      this.change(() => read)
      this.note = say.opened()
    }
  }
  /** Begins anew; what is there now is a step back. */
  begin(): void {
    this.change(() => grangePlan())
    this.note = ''
  }

  #keep(): void {
    this.refused = ''
    this.#isTouched = true
    clearTimeout(this.#keeping)
    this.#keeping = setTimeout(() => this.keepNow(), restMs)
  }
  /** Keeps the plan on the device at once. */
  async keepNow(): Promise<void> {
    clearTimeout(this.#keeping)
    if (!this.#isTouched) return
    this.#isTouched = false
    this.keepingProblem = await keepPlan(this.plan, this.known)
  }

  override start(): () => void {
    const kept = keptPlan(this.known)
    if (kept.plan) this.#history = beginHistory(kept.plan)
    this.keepingProblem = kept.problem
    const end = super.start()
    const forget = onPlanChange(() => {
      const { plan } = keptPlan(this.known)
      if (!plan || JSON.stringify(plan) === JSON.stringify(this.plan)) return
      clearTimeout(this.#keeping)
      this.#isTouched = false
      this.#history = take(this.#history, plan)
      this.note = say.otherTab()
    })
    const leave = () => void this.keepNow()
    addEventListener('pagehide', leave)
    return () => {
      leave()
      removeEventListener('pagehide', leave)
      forget()
      end()
    }
  }
}
