import type { PhonePredictedQuestion } from '../../engine/questions/phone-walk/phone-predicted.ts'
import { type HeardPlace, type PracticePlace, practicePlaces } from '../../engine/questions/phone-walk/phone-terms.ts'
import type { HallState } from '../../engine/scene/hall-terms.ts'
import type { Answer, Question, TaskName } from '../../engine/workers/tasks.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import { walkName } from './describe-walk.ts'
import {
  changeWalks,
  freshKey,
  type KeptPlace,
  type KeptWalk,
  keptWalks,
  mostFronts,
  mostPlaces,
  onWalksChange,
  roundedPlace,
  usualFrontM,
  withWalks,
} from './kept-walks.ts'
import { type HoldKind, Listening } from './listening.svelte.ts'
import { practiceDevice } from './practice-device.ts'
import { type PhoneWalkState, phoneWalkLink } from './walk-link.ts'
import { type DonePractice, predictedQuestion, walkQuestion } from './walk-question.ts'

/** The walk with the phone: what is heard now, the walks that are kept, and one of them with its prediction. */
export class PhoneWalk extends RigFigure<PhoneWalkState> {
  walks: KeptWalk[] = $state.raw([])
  /** Why the walks are not kept, or what of them cannot be read, or ''. */
  keepingProblem = $state('')
  /** Which of them is shown; '' for the practice as the page was built with it. */
  shownKey = $state('')
  /** The walk that is being walked; '' before its front is held. */
  walkingKey = $state('')
  /** The name of the place that is held or was marked last. */
  placeName = $state('')
  /** Where the practice stands. */
  practiceAt: PracticePlace = $state('front')
  isPractising = $state(false)
  readonly done: DonePractice
  readonly hallStates: HallState[]
  readonly microphone: Listening
  readonly practice: Listening

  readonly walked
  readonly predicted
  /** Whether the last change was not kept: what is shown is then more than what is stored. */
  #isAhead = false
  /** Without the sound, held before there is a walk. */
  #quiet: HeardPlace | null = $state.raw(null)

  constructor(rigs: RigChoice[], halls: HallState[], done: DonePractice, base: PhoneWalkState) {
    super(phoneWalkLink, rigs, base)
    this.hallStates = $state.snapshot(halls) as HallState[]
    this.done = $state.snapshot(done) as DonePractice
    const against = () => ({
      front: this.walking?.fronts.at(-1)?.levels ?? null,
      quiet: (this.walking?.quiet ?? this.#quiet)?.levels ?? null,
    })
    const onHeld = (kind: HoldKind, place: HeardPlace) => void this.#keep(kind, roundedPlace(place))
    this.microphone = new Listening(this.#askLive, against, onHeld)
    const device = practiceDevice(
      () => this.practiceAt,
      async (at) => this.#practiceSound(at),
    )
    this.practice = new Listening(this.#askLive, against, onHeld, device)
    this.walked = this.asks('phoneWalkAnswer', () => walkQuestion(this.shown), {
      what: 'walk',
      first: done.answer,
      about: () => this.shown,
    })
    this.predicted = this.asks('phonePredicted', () => this.#predictedQuestion(), {
      what: 'prediction',
      about: () => this.shown,
      first: done.predicted,
    })
  }

  /** The walk that is shown. */
  get shown(): KeptWalk {
    return this.walks.find(({ key }) => key === this.shownKey) ?? this.done.walk
  }
  /** The walk that is being walked. */
  get walking(): KeptWalk | undefined {
    return this.walks.find(({ key }) => key === this.walkingKey)
  }
  get hasQuiet(): boolean {
    return (this.walking ? this.walking.quiet : this.#quiet) !== null
  }
  /** What listens, or would. */
  get listening(): Listening {
    return this.isPractising ? this.practice : this.microphone
  }

  override start(): () => void {
    const end = super.start()
    const follow = () => {
      const { walks, problem } = keptWalks()
      // A walk that goes on here stays, whatever another tab has deleted.
      const going = this.walking
      this.walks = going && !walks.some(({ key }) => key === going.key) ? [going, ...walks] : walks
      this.keepingProblem = problem
    }
    follow()
    this.shownKey = this.walks[0]?.key ?? ''
    const ends = [this.microphone.start(), this.practice.start(), onWalksChange(follow), end]
    return () => {
      for (const each of ends) each()
    }
  }

  /** Turns the microphone on, or what stands in for it. A walk of the other kind is not gone on with. */
  async begin(practice: boolean): Promise<void> {
    if (practice !== this.isPractising) this.listening.turnOff()
    this.isPractising = practice
    if (this.walking && this.walking.isPractice !== practice) this.newWalk()
    if (practice) this.practiceAt = this.walking ? this.practiceAt : 'front'
    await this.listening.turnOn()
  }
  /** From here on the next front begins a walk of its own. */
  newWalk(): void {
    this.walkingKey = ''
    this.#quiet = null
    this.listening.drop()
  }
  /** Goes on with the walk that is shown. */
  goOn(): void {
    this.walkingKey = this.shown.key
  }
  mark(name: string): void {
    this.placeName = name
    this.listening.hold('place')
  }
  /** Whether the walk holds as much as it can. */
  get isFull(): boolean {
    const { places = [], fronts = [] } = this.walking ?? {}
    return places.length >= mostPlaces || fronts.length >= mostFronts
  }

  setWalk(key: string, part: Partial<Pick<KeptWalk, 'name' | 'frontM'>>): void {
    void this.#changeWalk(key, (walk) => ({ ...walk, ...part }))
  }
  setPlace(key: string, placeKey: string, part: Partial<Pick<KeptPlace, 'name' | 'distanceM' | 'angleDeg'>>): void {
    void this.#changeWalk(key, (walk) => ({
      ...walk,
      places: walk.places.map((place) => (place.key === placeKey ? { ...place, ...part } : place)),
    }))
  }
  dropPlace(key: string, placeKey: string): void {
    void this.#changeWalk(key, (walk) => ({ ...walk, places: walk.places.filter((each) => each.key !== placeKey) }))
  }
  async dropWalk(key: string): Promise<void> {
    if (this.walkingKey === key) this.newWalk()
    await this.#change((before) => before.filter((walk) => walk.key !== key))
    if (this.shownKey === key) this.shownKey = this.walks[0]?.key ?? ''
  }
  /** Takes in the walks of a file; those that are here stay as they are. Returns how many are new. */
  async add(walks: KeptWalk[]): Promise<number> {
    const before = new Set(this.walks.map(({ key }) => key))
    await this.#change((known) => withWalks(known, walks))
    this.shownKey = walks[0]?.key ?? this.shownKey
    return this.walks.filter(({ key }) => !before.has(key)).length
  }

  /** The pink noise, made when it is first wanted. */
  async noise(): Promise<Answer<'noiseFile'> | undefined> {
    return this.engine?.ask('noise', 'noiseFile', {})
  }

  #askLive = async <N extends TaskName>(task: N, question: Question<N>): Promise<Answer<N> | undefined> =>
    this.engine?.ask(`live ${task}`, task, question)

  async #practiceSound(at: PracticePlace): Promise<Answer<'phonePractice'> | undefined> {
    const [rig, hall] = [this.rigs[0]?.rig, this.hallStates[0]?.design]
    if (!rig || !hall) return undefined
    return this.engine?.ask(`practice ${at}`, 'phonePractice', { rig, hall, at, air: this.air })
  }

  #predictedQuestion(): PhonePredictedQuestion | undefined {
    const { shown } = this
    // The practice took place where it did.
    const where = shown.isPractice ? this.hallStates[0]?.key : this.state.where
    const rig = shown.isPractice ? this.rigs[0]?.rig : this.rig?.rig
    if (!rig || shown.places.length === 0) return undefined
    const hall = this.hallStates.find(({ key }) => key === where)
    return predictedQuestion(shown, rig, hall ? { kind: 'hall', design: hall.design } : { kind: 'outdoors' })
  }

  async #keep(kind: HoldKind, heard: HeardPlace): Promise<void> {
    const { walking } = this
    if (kind === 'quiet') {
      if (walking) await this.#changeWalk(walking.key, (walk) => ({ ...walk, quiet: heard }))
      else this.#quiet = heard
      return
    }
    const processing = Object.values(this.listening.recorder.microphone?.processing ?? {})
    const isProcessed = processing.includes('on')
    if (!walking) {
      if (kind === 'front') await this.#beginWalk(heard, isProcessed)
      return
    }
    if (kind === 'front') {
      await this.#changeWalk(walking.key, (walk) => ({
        ...walk,
        isProcessed: walk.isProcessed || isProcessed,
        fronts: [...walk.fronts, heard].slice(0, mostFronts),
      }))
      return
    }
    const front = walking.fronts.length - 1
    const known = this.isPractising && this.practiceAt !== 'quiet' ? practicePlaces[this.practiceAt] : undefined
    const place: KeptPlace = {
      key: freshKey(),
      name: this.placeName,
      heard,
      front,
      distanceM: known?.distanceM ?? null,
      angleDeg: known?.angleDeg ?? null,
    }
    await this.#changeWalk(walking.key, (walk) => ({ ...walk, places: [...walk.places, place].slice(0, mostPlaces) }))
  }

  async #beginWalk(front: HeardPlace, isProcessed: boolean): Promise<void> {
    const begun = new Date()
    const walk: KeptWalk = {
      key: freshKey(),
      name: walkName(begun, this.isPractising),
      begun: begun.toISOString(),
      isPractice: this.isPractising,
      isProcessed,
      frontM: this.isPractising ? this.done.walk.frontM : usualFrontM,
      quiet: this.#quiet,
      fronts: [front],
      places: [],
    }
    // Shown at once; kept a moment later.
    this.walks = [walk, ...this.walks]
    this.walkingKey = walk.key
    this.shownKey = walk.key
    await this.#change((before) => (before.some(({ key }) => key === walk.key) ? before : [walk, ...before]))
  }

  /** Changes one walk; one that another tab has deleted meanwhile comes back with what is new. */
  async #changeWalk(key: string, change: (walk: KeptWalk) => KeptWalk): Promise<void> {
    const shown = this.walks.find((walk) => walk.key === key)
    if (!shown) return
    await this.#change((before) =>
      before.some((walk) => walk.key === key)
        ? before.map((walk) => (walk.key === key ? change(walk) : walk))
        : [change(shown), ...before],
    )
  }

  async #change(change: (before: KeptWalk[]) => KeptWalk[]): Promise<void> {
    const { walks, problem } = await changeWalks(this.walks, change, this.#isAhead)
    this.walks = walks
    this.#isAhead = problem !== ''
    this.keepingProblem = problem
  }
}
