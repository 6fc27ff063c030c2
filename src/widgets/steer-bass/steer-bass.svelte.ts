import type { PlanPoint } from '../../acoustics/index.ts'
import { errorWall, originInHall, sizeOf, wallZMOf } from '../../engine/questions/steer/steer-boxes.ts'
import { steerProblem } from '../../engine/questions/steer/steer-check.ts'
import {
  type Arrangement,
  countRange,
  type SteerAnswer,
  type SteerPicture,
  type SteerQuestion,
  type SteerSet,
  type SteerShow,
  type SteerSuggestion,
  type SteerTogether,
  steerRange,
} from '../../engine/questions/steer/steer-terms.ts'
import { delayOfSpacingS, textbookThatFits } from '../../engine/questions/steer/textbook-set.ts'
import { airOf } from '../../engine/scene/air.ts'
import { rigPlaceIn } from '../../engine/scene/room.ts'
import type { PlaceResponses } from '../../sound/audition-types.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import { type HallChoice, placesOf } from '../rig-choice/hall-choice.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { boxName, countNotice, setName } from './describe-steer-bass.ts'
import { SolvedSets } from './solved-sets.ts'
import * as say from './steer-bass.messages.ts'
import { questionOf, type SteerBassState, setOf, stateOfSet, steerBassLink } from './steer-bass-link.ts'
import { clampedPlace } from './steer-plan-places.ts'
import type { SteerSearch } from './steer-search-work.ts'
import { answerFor, pictureFor, stepsHeard } from './steer-work.ts'

/** What a search is for: it is over when one of these changes. */
type SearchGround = Pick<SteerQuestion, 'rig' | 'point' | 'surroundings' | 'front' | 'behind' | 'band'> & {
  arrangement: Arrangement
  count: number
}

/** What boxes solved together hang on. */
type TogetherGround = Pick<SteerQuestion, 'rig' | 'point' | 'set' | 'surroundings' | 'front' | 'behind' | 'band'>

/** Boxes that an arrangement begins with. */
const firstCount: Record<Arrangement, number> = { pair: 2, trio: 3, 'end-fire': 3, row: 3, 'left-right': 2 }

/** Pictures and sounds do not hang on the reader's band; with one band for all they are not asked for anew when it moves. */
const anyBand = { fromHz: steerRange.bandHz.min, toHz: steerRange.bandHz.max }

/** Work that waits for a press is fetched then. */
const searchWork = () => import('./steer-search-work.ts')

type Pictured = SteerQuestion & { show: SteerShow }

/** The state of one figure of steered bass, and what the engine has answered for it so far. */
export class SteerBass extends RigFigure<SteerBassState> {
  /** Everything but the picture, and what of the figure the words about it need. */
  readonly answer: Asked<
    SteerQuestion,
    SteerAnswer,
    { description: string; setName: string; hall: string; hallShort: string }
  >
  /** The picture of the plan. */
  readonly picture: Asked<Pictured, SteerPicture>
  /** Spacing, delay, polarity and level for the reader's band, searched on request. */
  readonly search: Asked<SearchGround, SteerSearch>
  /** The boxes solved together, on request. */
  readonly together: Asked<TogetherGround, SteerTogether>
  /** What two places or settings sound like; a hall takes seconds to make, so it waits until the controls rest. */
  readonly sound: Hearable<object, PlaceResponses>
  /** Places that boxes or surroundings have just pushed away. */
  moved: readonly ('front' | 'behind')[] = $state.raw([])
  /** Settings that were left for another one, the newest last: nothing is lost. */
  before: SteerSet[] = $state.raw([])

  constructor(rigs: RigChoice[], halls: HallChoice[], base: SteerBassState, initial: SteerAnswer) {
    super(steerBassLink, rigs, base, halls)
    this.answer = this.works(
      () => (this.obstacle ? undefined : this.question),
      (asking, question) => {
        const { value, question: told } = this.answer
        const isTold = value.asBody && this.#solved.keyOf(told) === this.#solved.keyOf(question)
        return answerFor(asking, question, this.#solved, isTold)
      },
      {
        what: say.answer(),
        first: initial,
        about: () => ({
          description: this.rig.description,
          setName: setName(this.question.set, this.boxName),
          hall: this.state.hall,
          hallShort: this.hallShort,
        }),
      },
    )
    const pictured = (): Pictured | undefined =>
      this.obstacle ? undefined : { ...this.question, band: anyBand, show: this.state.show }
    const pictureKey = (question: Pictured) =>
      JSON.stringify([this.#solved.keyOf(question), question.frequencyHz, question.error === 'wall', question.show])
    this.picture = this.works(
      pictured,
      async (asking, question) => {
        const key = pictureKey(question)
        // The page's first picture is of one body already.
        const isReady = this.#pictured === undefined || this.#pictured === key
        const picture = await pictureFor(asking, question, isReady)
        if (picture) this.#pictured = key
        return picture
      },
      { what: say.picture(), still: true },
    )
    this.search = this.works(
      () => (this.obstacle ? undefined : this.#ground),
      async (asking) => {
        const question = { ...($state.snapshot(this.question) as SteerQuestion), air: this.air }
        const { searchFor } = await searchWork()
        return searchFor(asking, question, $state.snapshot(this.textbook), this.#solved)
      },
      { what: say.search(), when: 'pressed' },
    )
    this.together = this.works(
      () => (this.obstacle ? undefined : this.#togetherGround),
      async (asking, ground) =>
        (await searchWork()).compareTogether(
          asking,
          { ...ground, frequencyHz: this.state.frequencyHz, error: 'none' },
          this.#solved,
        ),
      { what: say.solvedTogether(), when: 'pressed' },
    )
    this.sound = this.hears(
      'steerResponses',
      () => {
        const question = this.obstacle ? this.answer.question : this.question
        const { compare } = this.state
        return { ...question, band: anyBand, frequencyHz: steerRange.frequencyHz.min, compare, length: 16384 }
      },
      { restS: 0.5 },
    )
    this.#first = JSON.stringify(this.answer.question)
  }

  /** The question of the page's own first state. */
  readonly #first: string
  readonly #solved = new SolvedSets(() => this.revision())
  /** Of what set the newest picture is. */
  #pictured: string | undefined

  /** The sound is made from the set as one body. */
  protected override async soundNeeds(question: SteerQuestion): Promise<object | null> {
    const { engine } = this
    return engine ? stepsHeard(engine, question, this.#solved) : null
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

  protected override get atHand() {
    return ['frontXM', 'frontZM', 'tableXM', 'tableZM', 'signal', 'level'] as const
  }

  question: SteerQuestion = $derived.by(() => questionOf(this.state, this.rig.rig, this.halls))
  obstacle = $derived.by(() => steerProblem(this.question))
  size = $derived(sizeOf(this.question))
  /** What each box is, and the state of the hall, in the words of their choices. */
  boxName = $derived.by(() => (this.state.point === 'yes' ? say.point() : boxName(this.rig)))
  hall = $derived.by(() => this.halls.find(({ key }) => key === this.state.hall))
  hallShort = $derived(this.hall?.short ?? '')
  wallZM = $derived(
    wallZMOf(this.question.set, this.size, this.question.error === 'wall' ? errorWall : this.question.surroundings),
  )
  /** Where the table is taken to stand: right before a wall that would cut it off. */
  tableAt: PlanPoint = $derived({
    xM: this.question.behind.xM,
    zM: Math.max(this.question.behind.zM, (this.wallZM ?? -Infinity) + 0.05),
  })
  /** Whether what is told is of the page's own first state, whose finding the page has. */
  untouched = $derived.by(() => this.search.value === undefined && JSON.stringify(this.answer.question) === this.#first)
  #speedOfSoundMps = $derived(airOf(this.air).speedOfSoundMps)
  /** Delay that the spacing asks for, s. */
  spacingDelayS = $derived(delayOfSpacingS(this.state.spacingM, this.#speedOfSoundMps))
  /** The setting of the books that fits here; null if none does. */
  textbook: SteerSet | null = $derived.by(() => textbookThatFits(this.question, this.#speedOfSoundMps))
  #ground: SearchGround = $derived.by(() => {
    const { rig, point, surroundings, front, behind, band, set } = this.question
    return { rig, point, surroundings, front, behind, band, arrangement: set.arrangement, count: set.count }
  })
  /** What was found for what the figure now stands at; null while there is none. */
  suggested: SteerSuggestion | null = $derived.by(() =>
    this.search.stale ? null : (this.search.value?.suggestion ?? null),
  )
  #togetherGround: TogetherGround = $derived.by(() => {
    const { rig, point, set, surroundings, front, behind, band } = this.question
    return { rig, point, set, surroundings, front, behind, band }
  })

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

  /** Takes a hall; in one of the reader's own both places are the plan's: the main one, and one behind the rig where there is one. */
  takeHall({ key, places }: HallChoice): void {
    Object.assign(this.state, { place: 'hall', hall: key })
    const { front, behind } = placesOf(places ? { places } : {})
    const shift = this.#rowShift()
    if (front) Object.assign(this.state, { frontXM: front.xM - shift.xM, frontZM: front.zM - shift.zM })
    if (behind && behind.zM < 0)
      Object.assign(this.state, { tableXM: behind.xM - shift.xM, tableZM: behind.zM - shift.zM })
    this.settle()
  }

  /** From where a rig stands in the hall to where the set's origin does. */
  #rowShift(): PlanPoint {
    const { surroundings, set } = this.question
    if (surroundings.kind !== 'hall') return { xM: 0, zM: 0 }
    const [rig, origin] = [rigPlaceIn(surroundings.design), originInHall(surroundings.design, set.arrangement)]
    return { xM: origin.xM - rig.xM, zM: origin.zM - rig.zM }
  }

  /** Takes another arrangement, set by the book for the reader's band. */
  setArrangement(arrangement: Arrangement): void {
    const count = firstCount[arrangement]
    const wanted = { ...this.question, set: { ...this.question.set, arrangement, count } }
    const fits = textbookThatFits(wanted, this.#speedOfSoundMps)
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

  /** What one end of the reader's band may be: it stops short of the other end. */
  bandRange(end: 'fromHz' | 'toHz'): { min: number; max: number } {
    const { min, max } = steerRange.bandHz
    const { fromHz, toHz } = this.state
    return end === 'fromHz'
      ? { min, max: Math.max(min, toHz - leastBandHz) }
      : { min: Math.min(max, fromHz + leastBandHz), max }
  }

  /** One end of the reader's band, whole Hz. */
  setBand(end: 'fromHz' | 'toHz', frequencyHz: number): void {
    this.state[end] = within(this.bandRange(end), Math.round(frequencyHz))
  }

  setFrequency(frequencyHz: number): void {
    this.state.frequencyHz = within(steerRange.frequencyHz, Math.round(frequencyHz))
  }
}

/** The reader's band is no narrower than this, Hz. */
const leastBandHz = 10
const within = ({ min, max }: { min: number; max: number }, value: number) => Math.min(max, Math.max(min, value))
