import { untrack } from 'svelte'
import type { Answer, Question, TaskName } from '../../engine/workers/tasks.ts'

/** What a piece of work may do: ask the engine, say how far it is, show what it has so far, and wait for the reader to rest. */
export type Asking<A> = {
  /**
   * Asks one question; undefined when a newer one has been asked meanwhile, and then the work should end. A name for the part
   * keeps several questions of one kind apart.
   */
  ask<N extends TaskName>(task: N, question: Question<N>, part?: string): Promise<Answer<N> | undefined>
  /** Asks many as one piece of work, and hands each answer on as it arrives. False when it was ended before. */
  askEach<N extends TaskName>(
    task: N,
    questions: Question<N>[],
    onAnswer: (answer: Answer<N>, index: number) => void,
  ): Promise<boolean>
  progress(done: number, total: number): void
  /** Shows an answer that more will be added to. */
  show(answer: A): void
  /** Waits; false when the question has changed meanwhile. */
  rest(seconds: number): Promise<boolean>
}

/** What one kind of question needs of the figure that it belongs to. */
export type AskedPlace = {
  /** The engine's side, while the figure is alive. */
  asking(asked: object, note: (standIn: string) => void): Pick<Asking<never>, 'ask' | 'askEach'> | undefined
  /** Ends what runs for this question: pieces of many questions, or all of it. */
  cancel(asked: object, what: 'pieces' | 'all'): void
  /** Everything beside the question that an answer hangs on: what the engine has learnt. */
  revision(): unknown
  /** Told after each piece of work. */
  rested(): void
}

export type AskedOptions<A, C> = {
  /** What is computed: a case of the message of the frame when it fails, as 'picture'. */
  what: string
  /** The answer to the question of the figure's first state. */
  first?: A
  /** Whether the page shows that answer as a still, made when it was built: then it is asked all the same, but nothing is old. */
  still?: boolean
  /** What else of the figure the words about the answer need, taken when the question is asked. */
  about?: () => C
  /** Asked as soon as the question changes (usual), or when `press` is called. */
  when?: 'changed' | 'pressed'
  /** How many answers to earlier questions are kept, so that going back costs nothing. */
  keep?: number
}

/** An answer, the question that it answers, what the figure was then, and whether more is to be added to it. */
type Told<Q, A, C> = { value: A; question: Q; about: C; key: string; partial: boolean }

/**
 * One kind of question of a figure, and its newest answer. Whatever a reader is told comes from `value`, `question` and
 * `about`, which always belong together; while a newer question is open, `open` is true and what is told must look old.
 */
export class Asked<Q extends object, A, C = undefined> {
  readonly what: string
  readonly when: 'changed' | 'pressed'
  readonly #place: AskedPlace
  readonly #question: () => Q | undefined
  readonly #work: (asking: Asking<A>, question: Q) => Promise<A | undefined>
  readonly #about: () => C
  readonly #keep: number
  readonly #kept = new Map<string, A>()
  #run = 0
  #told: Told<Q, A, C> | undefined = $state.raw()
  #working = $state(false)
  #tries = $state(0)
  #pressedKey = $state('')
  /** Whether it has ever been followed: on a page as it was built nothing is asked, so nothing is open. */
  #alive = $state(false)
  /** What was asked last, so that the same is not asked twice. */
  #asked: { key: string | undefined; tries: number } = { key: undefined, tries: 0 }

  /** How far long work is. */
  progress: { done: number; total: number } | undefined = $state.raw()
  /** Why the newest question has no answer, or ''. */
  problem = $state('')
  /** Why something stands in for the real thing in this answer, or ''. */
  standIn = $state('')

  constructor(
    place: AskedPlace,
    question: () => Q | undefined,
    work: (asking: Asking<A>, question: Q) => Promise<A | undefined>,
    { what, first, still = false, about = () => undefined as C, when = 'changed', keep = 0 }: AskedOptions<A, C>,
  ) {
    this.what = what
    this.when = when
    this.#place = place
    this.#question = question
    this.#work = work
    this.#about = about
    this.#keep = keep
    if (first === undefined && !still) return
    const now = question()
    if (!now) return
    const key = this.#keyOf(now)
    const value = plain(first) as A
    this.#told = { value, question: plain(now), about: plain(about()), key, partial: still }
    if (first !== undefined && keep > 0) this.#remember(key, value)
  }

  /** The newest answer. Undefined only for a question that has no first answer and none yet, or a still for one. */
  get value(): A {
    return this.#told?.value as A
  }
  /** The question that `value` answers. */
  get question(): Q {
    return this.#told?.question as Q
  }
  /** What the figure was when that question was asked. */
  get about(): C {
    return this.#told?.about as C
  }

  /** Whether an answer is shown, to whatever question, or a still for one. */
  get shown(): boolean {
    return this.#told !== undefined
  }

  #key = $derived.by(() => {
    const question = this.#question()
    return question && this.#keyOf(question)
  })
  /** Whether the answer is to another question than the figure now stands at. One that more is added to is not: see `working`. */
  open = $derived.by(() => {
    if (this.when === 'pressed') return this.#working
    return this.#alive && this.#key !== undefined && this.#told?.key !== this.#key
  })
  /** Whether a pressed question has been overtaken by the figure. */
  stale = $derived.by(() => this.when === 'pressed' && this.#pressedKey !== '' && this.#pressedKey !== this.#key)
  /** Whether it is being worked on now. */
  get working(): boolean {
    return this.#working
  }

  #keyOf(question: Q): string {
    return `${JSON.stringify(question)} ${JSON.stringify(this.#place.revision())}`
  }

  /** For the figure: asks whenever the question changes. To be called in an effect; reads all that the question hangs on. */
  follow(): void {
    this.#alive = true
    if (this.when === 'pressed') {
      // Work on request ends when what it is for changes; the reader may ask anew.
      if (this.stale) untrack(() => this.#leave('all'))
      return
    }
    const tries = this.#tries
    const key = this.#key
    const question = this.#question()
    untrack(() => {
      if (key === this.#asked.key && tries === this.#asked.tries) return
      const repeated = tries !== this.#asked.tries
      this.#asked = { key, tries }
      const wanted = key !== this.#told?.key || this.#told?.partial || repeated
      if (question && key !== undefined && wanted) return void this.#begin(question, key)
      // What is there is what is wanted: nothing is to be worked on, and nothing has failed.
      this.#leave('pieces')
      this.problem = ''
    })
  }

  /** Asks now: for a question that waits for a press. */
  press(): void {
    const [question, key] = [this.#question(), this.#key]
    if (!question || key === undefined) return
    this.#pressedKey = key
    this.#told = undefined
    this.#begin(question, key)
  }

  /** Asks the same once more, after a failure. */
  again(): void {
    if (this.when === 'pressed') this.press()
    else this.#tries += 1
  }

  /** Ends the work on the reader's wish; what is there stays. */
  stop(): void {
    this.#leave('all')
    this.#pressedKey = ''
    if (this.when === 'pressed') this.#told = undefined
  }

  #leave(what: 'pieces' | 'all'): void {
    this.#run += 1
    if (!this.#working) return
    this.#working = false
    this.progress = undefined
    this.#place.cancel(this, what)
  }

  async #begin(live: Q, key: string): Promise<void> {
    this.#leave('pieces')
    const run = this.#run
    const current = () => this.#run === run
    const [question, about] = [plain(live), plain(this.#about())]
    const tell = (answer: A, partial: boolean) => {
      this.#told = { value: answer, question, about, key, partial }
    }
    const kept = this.#kept.get(key)
    if (kept !== undefined) {
      tell(kept, false)
      this.problem = ''
      this.standIn = ''
      return
    }
    let standIn = ''
    const engine = this.#place.asking(this, (reason) => {
      standIn = reason
    })
    if (!engine) return
    this.#working = true
    try {
      const answer = await this.#work(
        {
          ...engine,
          progress: (done, total) => {
            if (current()) this.progress = { done, total }
          },
          show: (some) => {
            if (current()) tell(some, true)
          },
          rest: async (seconds) => {
            await new Promise((done) => setTimeout(done, seconds * 1000))
            return current()
          },
        },
        question,
      )
      if (!current()) return
      if (answer !== undefined) {
        tell(answer, false)
        this.problem = ''
        this.standIn = standIn
        if (this.#keep > 0 && standIn === '') this.#remember(key, answer)
      }
    } catch (error) {
      if (!current()) return
      this.problem = error instanceof Error ? error.message : String(error)
    }
    this.#working = false
    this.progress = undefined
    this.#place.rested()
  }

  #remember(key: string, answer: A): void {
    if (this.#kept.size >= this.#keep) this.#kept.delete(this.#kept.keys().next().value as string)
    this.#kept.set(key, answer)
  }
}

/** Plain data of what may be a proxy: a worker takes no other, and the pair must not follow the figure. */
const plain = <T>(value: T): T => $state.snapshot(value) as T
