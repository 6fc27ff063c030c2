import { untrack } from 'svelte'
import type { PlanPoint } from '../../acoustics/index.ts'
import type {
  NeighbourAnswer,
  NeighbourQuestion,
  PlanAnswer,
  PlanQuestion,
} from '../../engine/questions/plan/plan-terms.ts'
import { enclosedHere } from '../../state/enclosed-text.ts'
import { isAnyKept, onListChange, savedRigsKey } from '../../state/kept-list-change.ts'
import * as edits from '../../state/plan-edits.ts'
import { planFaults } from '../../state/plan-faults.ts'
import { keepPlan, keptPlan, onPlanChange, readPlan, writePlan } from '../../state/plan-file.ts'
import { handedPlan } from '../../state/plan-hand-over.ts'
import { beginHistory, type PlanHistory, redo, rest, take, undo } from '../../state/plan-history.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import { withoutEnclosed } from '../../state/without-enclosed.ts'
import { partNotFetched } from '../../words/words.messages.ts'
import { save } from '../controls/save-file.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigSolving } from '../rig-choice/rig-solving.svelte.ts'
import { coarseThenWhole } from './coarse-then-whole.ts'
import { type FoundMove, foundMoves } from './found-moves.ts'
import { grangePlan } from './grange-plan.ts'
import { boxForPlan, type OwnOffer, ownOffers, rigToSolve } from './own-boxes.ts'
import * as say from './plan.messages.ts'
import { type PlanLinkState, planLink } from './plan-link.ts'
import { SheetMap } from './plan-map.svelte.ts'
import { SheetMeasured } from './plan-measured.svelte.ts'
import { neighbourQuestion, type OfferedBox, offeredBoxes, planKnown, planQuestion } from './plan-question.ts'

/** How long a plan rests before it is kept, ms: a drag is not written at each step. */
const restMs = 400

/** For which plan and which place moves are looked for. */
export type MovesQuestion = { plan: Plan; placeId: string }

/** The reader's plan: the document with its ways back, what is answered for it, and what the device keeps. */
export class PlanSheet extends LiveFigure<PlanLinkState> {
  /** The page's own boxes. */
  readonly boxes: OfferedBox[]
  /** Those of the reader's own that this device keeps. */
  ownOffers: OwnOffer[] = $state.raw([])
  readonly solving = new RigSolving()
  readonly known: PlanKnown
  readonly answer: Asked<PlanQuestion, PlanAnswer, Plan>
  /** What lies under the drawing. */
  readonly map: SheetMap
  /** What two microphones measured. */
  readonly measured: SheetMeasured
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
  /** Said when another page handed a plan over, or ''. */
  handed = $state('')
  /** A plan that came with the link, while the reader has not said whether it may take the place of the kept one. */
  sent: Plan | undefined = $state.raw()
  /** Which box and which place the fields show. */
  boxId = $state('c1')
  placeId = $state('p1')
  /** What was moved in the drawing last, or ''. */
  movedId = $state('')
  #keeping: ReturnType<typeof setTimeout> | undefined
  /** Whether the plan is the reader's: what a page begins with is not kept. */
  #isTouched = false

  constructor(rigs: RigChoice[], initial: PlanAnswer, initialNeighbour: NeighbourAnswer) {
    super(planLink, { units: 'own' })
    this.boxes = offeredBoxes($state.snapshot(rigs) as RigChoice[])
    this.known = planKnown(this.boxes)
    this.answer = this.works(
      () => (this.plan.cabinets.length > 0 ? planQuestion(this.plan, this.boxes) : undefined),
      (asking, question) => coarseThenWhole(asking, question, () => this.answer.value),
      { what: say.answer(), first: initial, about: () => this.plan },
    )
    this.neighbour = this.asks(
      'planNeighbour',
      () => (this.plan.cabinets.length > 0 ? neighbourQuestion(this.plan, this.boxes) : undefined),
      { what: say.neighbourAnswer(), first: initialNeighbour, about: () => this.plan },
    )
    this.map = new SheetMap(this)
    this.measured = new SheetMeasured(this)
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
  /** Whether what is told is of another plan, or yet coarse. */
  isOld = $derived.by(() => this.answer.open || this.answer.working)
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
    const edit = edits.slideEdit(this.plan, id, to, (way) => this.faultOf(way) === undefined)
    if (!edit) return
    this.change(edit, of)
    this.movedId = id
    if (edits.isCabinet(id)) this.boxId = id
    else this.placeId = id
  }

  /** What adds a box, one of the page's or of the reader's own. */
  addEdit(key: string, cabinet: Omit<Plan['cabinets'][number], 'id' | 'box'>): (plan: Plan) => Plan {
    const offer = this.ownOffers.find((box) => box.key === key)
    if (!offer) return (plan) => edits.addCabinet(plan, { box: key, ...cabinet })
    return (plan) => {
      const own = boxForPlan(plan, offer)
      return edits.addCabinet(plan, { box: own.key, ...cabinet }, own)
    }
  }

  /** The own boxes in the plan, to be solved; as text, so that nothing begins anew when one is moved. */
  #toSolve = $derived.by(() => JSON.stringify(rigToSolve(this.plan)))
  /** Solves the own boxes that stand in the plan, or takes them from what this device keeps. Returns the function that ends it. */
  solveOwn(): () => void {
    const text = this.#toSolve
    if (!this.engine || text === undefined) {
      this.solving.leave()
      return () => {}
    }
    return this.solving.begin(this.engine, JSON.parse(text))
  }
  /** Begins anew whenever other boxes stand in the plan. */
  #solveAgain(_: string | undefined): () => void {
    return untrack(() => this.solveOwn())
  }
  /** With every cabinet that the engine has learnt, what was asked before is asked again. */
  protected override revision(): unknown {
    return this.solving.revision
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
  /** Takes the plan of the link; what is there now is a step back. */
  openSent(): void {
    const { sent } = this
    if (sent && this.change(() => sent)) this.note = say.opened()
    this.keepMine()
  }
  /** Leaves the plan of the link alone; the address no longer brings it. */
  keepMine(): void {
    this.sent = undefined
    history.replaceState(history.state, '', withoutEnclosed(location.href))
  }
  /** Hands the plan to the reader as a file. */
  saveFile(): void {
    save('plan.json', new Blob([writePlan(this.plan)], { type: 'application/json' }))
    this.note = say.saved()
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

  /** Shows the plan of the link where the device keeps none; asks first where it does. */
  async #takeSent(isAnyKept: boolean): Promise<void> {
    if (enclosedHere() === '') return
    try {
      const { sentPlan } = await import('./sent-plan.ts')
      const sent = sentPlan(this.known)
      if (typeof sent === 'string') this.note = say.sentNotOpened({ reason: sent })
      else if (sent && JSON.stringify(sent) !== JSON.stringify(this.plan)) {
        if (isAnyKept || this.canUndo) this.sent = sent
        else this.#history = beginHistory(sent)
      }
    } catch {
      this.note = say.sentNotOpened({ reason: partNotFetched() })
    }
  }

  /** Offers the boxes of the reader's own, as they are kept now. */
  #followOwn(): void {
    const follow = async () => {
      if (!isAnyKept(savedRigsKey)) {
        this.ownOffers = []
        return
      }
      try {
        const { ownRigs } = await import('../send/at-need.ts')
        this.ownOffers = ownOffers(await ownRigs(''))
      } catch {
        this.note = partNotFetched()
      }
    }
    follow()
    $effect(() => onListChange(follow))
  }

  override start(): () => void {
    const kept = keptPlan(this.known)
    if (kept.plan) this.#history = beginHistory(kept.plan)
    this.keepingProblem = kept.problem
    const handed = handedPlan(this.known)
    if (handed) {
      // Not kept before the reader changes it: what the device has stays until then, and is a step back.
      this.#history = take(this.#history, handed)
      this.handed = say.handed()
    }
    const end = super.start()
    const forget = onPlanChange(() => {
      const { plan } = keptPlan(this.known)
      if (!plan || JSON.stringify(plan) === JSON.stringify(this.plan)) return
      clearTimeout(this.#keeping)
      this.#isTouched = false
      this.#history = take(this.#history, plan)
      this.note = say.otherTab()
    })
    this.#takeSent(kept.plan !== undefined)
    this.#followOwn()
    $effect(() => this.#solveAgain(this.#toSolve))
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
