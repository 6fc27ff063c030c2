import { createEngine, type Engine } from '../../engine/workers/engine.ts'
import type { Answer, Question, TaskName } from '../../engine/workers/tasks.ts'
import { Asked, type AskedOptions, type AskedPlace, type Asking } from './asked.svelte.ts'
import { Hearable } from './hearable.svelte.ts'
import { type FigureState, LinkedFigure } from './linked-figure.svelte.ts'

/** Questions whose answer is what two places sound like. */
type SoundTask = { [N in TaskName]: 'sampleRateHz' extends keyof Question<N> ? N : never }[TaskName]

/** A figure that asks: questions with their answers, and what to tell the reader when something went wrong. */
export class LiveFigure<S extends FigureState> extends LinkedFigure<S> {
  readonly #asked: Asked<never, unknown, unknown>[] = []
  readonly #heard: { follow(): (() => void) | undefined }[] = []
  readonly #channels = new Map<object, Map<string, 'one' | 'pieces'>>()
  #engine: Engine | undefined

  withoutWorkers = $state(false)

  /** Everything beside question and air that answers hang on. */
  protected revision(): unknown {
    return 0
  }

  /** What a sound takes that has to be asked first, added to its question; null when that was left. */
  protected soundNeeds?(question: object): Promise<object | null>

  /** The workers: started with the first question. Undefined unless the figure is alive. */
  protected get engine(): Engine | undefined {
    if (this.ready) this.#engine ??= createEngine()
    return this.#engine
  }

  /**
   * One kind of question, asked anew whenever it changes; nothing is asked while it gives undefined. The air of the site is
   * added. See Asked for what it gives.
   *
   * @param task      what is asked
   * @param question  the question as the figure stands now; read like a $derived
   */
  asks<N extends TaskName, C = undefined>(
    task: N,
    question: () => Question<N> | undefined,
    options: AskedOptions<Answer<N>, C>,
  ): Asked<Question<N> & object, Answer<N>, C> {
    return this.works<Question<N> & object, Answer<N>, C>(
      question as () => (Question<N> & object) | undefined,
      ({ ask }, asked) => ask(task, asked),
      options,
    )
  }

  /** A question that takes several to answer, or long work with progress; else as `asks`. */
  works<Q extends object, A, C = undefined>(
    question: () => Q | undefined,
    work: (asking: Asking<A>, question: Q) => Promise<A | undefined>,
    options: AskedOptions<A, C>,
  ): Asked<Q, A, C> {
    const inAir = (): Q | undefined => {
      const asked = question()
      return asked && { ...asked, air: this.air }
    }
    const asked = new Asked<Q, A, C>(this.#place, inAir, work, options)
    this.#asked.push(asked as unknown as Asked<never, unknown, unknown>)
    return asked
  }

  /**
   * What two places sound like: the impulse responses of a question, made when the reader listens. See Hearable.
   *
   * @param restS  how long the figure must rest before other responses are wanted, s
   */
  hears<N extends SoundTask, Q extends Omit<Question<N>, 'sampleRateHz' | 'air'>>(
    task: N,
    question: () => Q,
    { restS = 0 } = {},
  ): Hearable<object, Answer<N>> {
    const heard = new Hearable<object, Answer<N>>(
      () => ({ ...question(), air: this.air, revision: this.revision() }),
      async (asked, sampleRateHz) => {
        const more = await this.soundNeeds?.(asked)
        if (more === null) return undefined
        return this.engine?.ask(`sound ${task}`, task, { ...asked, ...more, sampleRateHz } as unknown as Question<N>)
      },
      restS,
    )
    this.#heard.push(heard)
    return heard
  }

  #place: AskedPlace = {
    asking: (asked, note) => {
      const { engine } = this
      if (!engine) return undefined
      const id = this.#asked.indexOf(asked as Asked<never, unknown, unknown>)
      const channels = this.#channels.get(asked) ?? new Map()
      this.#channels.set(asked, channels)
      const options = { onStandIn: note }
      return {
        ask: (task, question, part = '') => {
          const channel = `${id} ${task} ${part}`
          channels.set(channel, 'one')
          return engine.ask(channel, task, question, options)
        },
        askEach: (task, questions, onAnswer) => {
          const channel = `${id} ${task} each`
          channels.set(channel, 'pieces')
          return engine.askEach(channel, task, questions, onAnswer, options)
        },
      }
    },
    cancel: (asked, what) => {
      for (const [channel, kind] of this.#channels.get(asked) ?? [])
        if (what === 'all' || kind === 'pieces') this.#engine?.cancel(channel)
    },
    revision: () => this.revision(),
    rested: () => {
      this.withoutWorkers = this.#engine?.withoutWorkers ?? false
    },
  }

  /** What could not be computed, each kind of question by itself, with the way to try again. Work on request tells its own. */
  get problems(): { what: string; reason: string; lastStays: boolean; again(): void }[] {
    return this.#asked
      .filter(({ problem, when }) => problem !== '' && when === 'changed')
      .map((asked) => ({
        what: asked.what,
        reason: asked.problem,
        lastStays: asked.shown,
        again: () => asked.again(),
      }))
  }

  /** Why something stands in for the real thing in what is shown, and the way to try again. */
  get standIn(): { reason: string; again(): void } | undefined {
    const standing = this.#asked.filter(({ standIn }) => standIn !== '')
    const [first] = standing
    return (
      first && {
        reason: first.standIn,
        again: () => {
          for (const asked of standing) asked.again()
        },
      }
    )
  }

  /** Takes over what the link says and begins to ask. Returns the function that ends it. */
  override start(): () => void {
    const end = super.start()
    for (const asked of this.#asked) $effect(() => asked.follow())
    for (const heard of this.#heard) $effect(() => heard.follow())
    return () => {
      end()
      this.#engine?.dispose()
      this.#engine = undefined
    }
  }
}
