import type { PlanPoint } from '../../acoustics/index.ts'
import { makeAir } from '../../acoustics/medium/air.ts'
import {
  delayOfSpacingS,
  sizeOf,
  steerProblem,
  textbookThatFits,
  wallZMOf,
} from '../../engine/questions/steer/steer-check.ts'
import {
  type Arrangement,
  countRange,
  type SteerAnswer,
  type SteerCandidate,
  type SteerMerits,
  type SteerPicture,
  type SteerQuestion,
  type SteerSet,
  type SteerShow,
  type SteerSuggestion,
  steerErrorSize,
  steerRange,
} from '../../engine/questions/steer/steer-terms.ts'
import type { HallState } from '../../engine/scene/hall-terms.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { countNotice } from './describe-steer-bass.ts'
import { questionOf, type SteerBassState, setOf, stateOfSet, steerBassLink } from './steer-bass-link.ts'
import { clampedPlace } from './steer-plan-places.ts'

/** What a search is for: it is over when one of these changes. */
type SearchGround = Pick<SteerQuestion, 'rig' | 'point' | 'surroundings' | 'front' | 'behind' | 'band'> & {
  arrangement: Arrangement
  count: number
}

/** Boxes that an arrangement begins with. */
const firstCount: Record<Arrangement, number> = { pair: 2, trio: 3, 'end-fire': 3, row: 3, 'left-right': 2 }

/** The wall that comes with the error of that name. */
const errorWall = { kind: 'wall', gapM: steerErrorSize.wallGapM } as const

const speedOfSoundMps = makeAir().speedOfSoundMps

/** The state of one figure of steered bass, and what the engine has answered for it so far. */
export class SteerBass extends RigFigure<SteerBassState> {
  readonly halls: HallState[]
  /** The newest answer and the question that it answers: sentences and charts keep to these. */
  answer = $state.raw({} as SteerAnswer)
  answered = $state.raw({} as SteerQuestion)
  picture: SteerPicture | undefined = $state.raw()
  pictured: (SteerQuestion & { show: SteerShow }) | undefined = $state.raw()
  /** How far a search is; null when none runs. */
  searching: { done: number; total: number; tried: number } | null = $state.raw(null)
  suggestion: SteerSuggestion | null = $state.raw(null)
  /** What is left of both with one box late; null until it is known. */
  late: { textbook: SteerMerits | null; best: SteerMerits | null } = $state.raw({ textbook: null, best: null })
  searchProblem = $state('')
  /** What was searched for, as text. */
  searchedKey = $state('')
  /** Places that boxes or surroundings have just pushed away. */
  moved: readonly ('front' | 'behind')[] = $state.raw([])
  /** Which search is the newest. */
  #run = 0
  /** Settings that were left for another one, the newest last: nothing is lost. */
  before: SteerSet[] = $state.raw([])

  constructor(rigs: RigChoice[], halls: HallState[], base: SteerBassState, initial: SteerAnswer) {
    super(steerBassLink, rigs, base)
    this.halls = $state.snapshot(halls) as HallState[]
    this.answer = initial
    this.answered = questionOf($state.snapshot(this.state) as SteerBassState, this.rig.rig, this.halls)
  }

  /** Takes over what the link says; a number of boxes or a place that cannot be is put right, and said. */
  override start(): () => void {
    const stop = super.start()
    const { count } = setOf(this.state)
    const notice = countNotice(this.state.count, this.state.arrangement, count)
    if (notice && new URLSearchParams(location.search).has('steer.count')) this.dropped = [...this.dropped, notice]
    this.state.count = count
    this.settle()
    return stop
  }

  /** The workers, for a piece of work that has a file of its own. */
  readonly workers = () => this.engine

  question: SteerQuestion = $derived.by(() => questionOf(this.state, this.rig.rig, this.halls))
  obstacle = $derived.by(() => steerProblem(this.question))
  size = $derived(sizeOf(this.question))
  wallZM = $derived(
    wallZMOf(this.question.set, this.size, this.question.error === 'wall' ? errorWall : this.question.surroundings),
  )
  /** Where the table is taken to stand: right before a wall that would cut it off. */
  tableAt: PlanPoint = $derived({
    xM: this.question.behind.xM,
    zM: Math.max(this.question.behind.zM, (this.wallZM ?? -Infinity) + 0.05),
  })
  /** Delay that the spacing asks for, s. */
  spacingDelayS = $derived(delayOfSpacingS(this.state.spacingM, speedOfSoundMps))
  /** The setting of the books that fits here; null if none does. */
  textbook: SteerSet | null = $derived.by(() => textbookThatFits(this.question, speedOfSoundMps))
  #ground: SearchGround = $derived.by(() => {
    const { rig, point, surroundings, front, behind, band, set } = this.question
    return { rig, point, surroundings, front, behind, band, arrangement: set.arrangement, count: set.count }
  })
  groundKey = $derived(JSON.stringify(this.#ground))
  suggested = $derived(this.searchedKey === this.groundKey ? this.suggestion : null)

  /** Asks for everything but the picture; the newest question wins. */
  async askAnswer(question: SteerQuestion): Promise<void> {
    await this.attempt('answer', async (engine) => {
      this.busy = true
      const answer = await engine.ask('steer', 'steerAnswer', question)
      if (!answer) return
      this.answer = answer
      this.answered = question
      this.busy = false
    })
  }

  /** Asks for the picture of the plan; the last one stays until it is there. */
  async askPicture(question: SteerQuestion & { show: SteerShow }): Promise<void> {
    await this.attempt('picture', async (engine) => {
      const picture = await engine.ask('steer picture', 'steerPicture', question)
      if (!picture) return
      this.picture = picture
      this.pictured = question
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(question: SteerQuestion, compare: SteerBassState['compare'], sampleRateHz: number) {
    return this.engine?.ask('steer responses', 'steerResponses', { ...question, compare, sampleRateHz, length: 16384 })
  }

  /** Searches spacing, delay, polarity and level for the reader's band; a newer search or `stopSearch` ends it. */
  async search(): Promise<void> {
    const { engine } = this
    if (!engine || this.obstacle) return
    const run = ++this.#run
    const current = () => this.#run === run
    const question = { ...($state.snapshot(this.question) as SteerQuestion), error: 'none' as const }
    this.suggestion = null
    this.late = { textbook: null, best: null }
    this.searchProblem = ''
    this.searchedKey = this.groundKey
    this.searching = { done: 0, total: 1, tried: 0 }
    try {
      const plan = await engine.ask('steer plan', 'steerSearchPlan', question)
      if (!plan || !current()) return
      const candidates: (SteerCandidate & { tried: number })[] = []
      this.searching = { done: 0, total: plan.length, tried: 0 }
      const all = await engine.askEach('steer search', 'steerSearchStep', plan, (candidate, index) => {
        candidates[index] = candidate
        if (!this.searching || !current()) return
        const { done, total, tried } = this.searching
        this.searching = { done: done + 1, total, tried: tried + candidate.tried }
      })
      if (!all || !current()) return
      const suggestion = await engine.ask('steer suggestion', 'steerSuggestion', { ...question, candidates })
      if (!suggestion || !current()) return
      this.suggestion = suggestion
      this.searching = null
      const settings = [suggestion.best, suggestion.textbook].map(({ set }) => ({ ...question, set }))
      await engine.askEach('steer late', 'steerAnswer', settings, ({ errors }, index) => {
        if (current()) this.late = { ...this.late, [index === 0 ? 'best' : 'textbook']: errors.late }
      })
    } catch (error) {
      if (current())
        this.searchProblem = `The search could not be finished. (${error instanceof Error ? error.message : error})`
    } finally {
      if (current()) this.searching = null
    }
  }

  stopSearch(): void {
    this.#run++
    this.searching = null
    for (const channel of ['steer plan', 'steer search', 'steer suggestion', 'steer late']) this.engine?.cancel(channel)
  }

  /** Takes over a setting; the one before can be had back. */
  take(set: SteerSet): void {
    this.before = [...this.before, setOf($state.snapshot(this.state) as SteerBassState)].slice(-20)
    Object.assign(this.state, stateOfSet(set))
    this.settle()
  }

  goBack(): void {
    const last = this.before.at(-1)
    if (!last) return
    this.before = this.before.slice(0, -1)
    Object.assign(this.state, stateOfSet(last))
    this.settle()
  }

  /** Takes another arrangement, set by the book for the reader's band. */
  setArrangement(arrangement: Arrangement): void {
    const count = firstCount[arrangement]
    const wanted = { ...this.question, set: { ...this.question.set, arrangement, count } }
    const fits = textbookThatFits(wanted, speedOfSoundMps)
    this.take(fits ?? { ...wanted.set })
  }

  /** Takes other boxes: a rig's lowest cabinet by its key, or points. Too close a spacing for them grows. */
  takeBox(key: string): void {
    if (key === 'point') this.state.point = 'yes'
    else Object.assign(this.state, { rig: key, point: 'no' })
    this.#makeRoom()
    this.settle()
  }

  #makeRoom(): void {
    const { obstacle } = this
    if (obstacle?.kind === 'overlap') this.state.spacingM = obstacle.neededM
  }

  setCount(count: number): void {
    const { min, max } = countRange[this.state.arrangement]
    this.state.count = within({ min, max }, Math.round(count))
    this.settle()
  }

  /** Puts the listeners in front or the table there, to 5 cm; walls and boxes stop them. */
  setPlace(which: 'front' | 'behind', place: PlanPoint): void {
    this.moved = []
    const { surroundings, set } = this.question
    const wallZM = wallZMOf(set, sizeOf(this.question), surroundings)
    const { xM, zM } = clampedPlace(which, place, surroundings, set.arrangement, wallZM)
    const problem = steerProblem({ ...this.question, [which]: { xM, zM } })
    if (problem?.kind === 'place' && problem.which === which) return
    if (which === 'front') Object.assign(this.state, { frontXM: xM, frontZM: zM })
    else Object.assign(this.state, { tableXM: xM, tableZM: zM })
  }

  /** Brings both places inside after boxes or surroundings have changed, and notes which had to move. */
  settle(): void {
    const { frontXM, frontZM, tableXM, tableZM } = this.state
    this.setPlace('front', { xM: frontXM, zM: frontZM })
    this.setPlace('behind', { xM: tableXM, zM: tableZM })
    const far = (a: number, b: number) => Math.abs(a - b) > 0.03
    this.moved = [
      ...(far(frontXM, this.state.frontXM) || far(frontZM, this.state.frontZM) ? (['front'] as const) : []),
      ...(far(tableXM, this.state.tableXM) || far(tableZM, this.state.tableZM) ? (['behind'] as const) : []),
    ]
  }

  /** One end of the reader's band, whole Hz; it stops short of the other end. */
  setBand(end: 'fromHz' | 'toHz', frequencyHz: number): void {
    const { min, max } = steerRange.bandHz
    const { fromHz, toHz } = this.state
    this.state[end] =
      end === 'fromHz'
        ? within({ min, max: Math.max(min, toHz - leastBandHz) }, Math.round(frequencyHz))
        : within({ min: Math.min(max, fromHz + leastBandHz), max }, Math.round(frequencyHz))
  }

  setFrequency(frequencyHz: number): void {
    this.state.frequencyHz = within(steerRange.frequencyHz, Math.round(frequencyHz))
  }
}

/** The reader's band is no narrower than this, Hz. */
const leastBandHz = 10
const within = ({ min, max }: { min: number; max: number }, value: number) => Math.min(max, Math.max(min, value))
