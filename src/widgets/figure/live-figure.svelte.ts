import { untrack } from 'svelte'
import { createEngine, type Engine } from '../../engine/workers/engine.ts'
import type { Answer, Question, TaskName } from '../../engine/workers/tasks.ts'
import {
  type LengthUnit,
  onPreferencesChange,
  preferences,
  setPreferences,
  shownTheme,
  takeLinkedAir,
} from '../../state/preferences.ts'
import { type LinkSchema, readLink, writeLink } from '../../state/share-link.ts'
import { type SiteAir, usualAir, withAir } from '../../state/site-air.ts'
import { Asked, type AskedOptions, type AskedPlace, type Asking } from './asked.svelte.ts'
import { Hearable } from './hearable.svelte.ts'

/** What a figure's link keeps: its own fields, and the units if the sender had chosen feet. */
export type FigureState = Record<string, unknown> & { units: LengthUnit | 'own' }

/** Questions whose answer is what two places sound like. */
type SoundTask = { [N in TaskName]: 'sampleRateHz' extends keyof Question<N> ? N : never }[TaskName]

/** Makes a live figure in a component: it starts when the component does, and ends with it. */
export function alive<F extends { start(): () => void }>(make: () => F): F {
  const figure = untrack(make)
  $effect(() => untrack(() => figure.start()))
  return figure
}

/**
 * What every live figure has: a state that its link restores, questions with their answers, the reader's units, air and
 * theme, and what to tell the reader when something went wrong.
 */
export class LiveFigure<S extends FigureState> {
  #link: LinkSchema<S>
  readonly #base: S
  readonly #asked: Asked<never, unknown, unknown>[] = []
  readonly #heard: { follow(): (() => void) | undefined }[] = []
  readonly #channels = new Map<object, Map<string, 'one' | 'pieces'>>()
  #engine: Engine | undefined

  state = $state({} as S)
  /** Whether the link has been read: from then on the address follows the state. */
  ready = $state(false)
  withoutWorkers = $state(false)
  dropped: string[] = $state.raw([])
  units: LengthUnit = $state('m')
  theme = $state('')
  /** The air that every question is asked in. */
  air: SiteAir = $state.raw(usualAir)

  /**
   * @param link  the schema of the share link
   * @param base  the state that an empty link gives on this page
   */
  constructor(link: LinkSchema<S>, base: S) {
    this.#link = link
    // Plain data: props arrive as proxies, which cannot be sent to a worker.
    this.#base = $state.snapshot(base) as S
    this.state = { ...this.#base }
  }

  /** Changes what a link may say, for choices that are known only in the browser. To be called before `start`. */
  protected relink(link: LinkSchema<S>): void {
    this.#link = link
  }

  /** Everything beside question and air that answers hang on. */
  protected revision(): unknown {
    return 0
  }

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
      async (asked, sampleRateHz) =>
        this.engine?.ask(`sound ${task}`, task, { ...asked, sampleRateHz } as unknown as Question<N>),
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
  get problems(): { what: string; reason: string; again(): void }[] {
    return this.#asked
      .filter(({ problem, when }) => problem !== '' && when === 'changed')
      .map((asked) => ({ what: asked.what, reason: asked.problem, again: () => asked.again() }))
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

  // TEMPORARY until every figure asks by `asks`.
  busy = $state(false)
  problem = $state('')
  protected async attempt(what: string, work: (engine: Engine) => Promise<void>): Promise<void> {
    const { engine } = this
    if (!engine) return
    try {
      await work(engine)
      this.problem = ''
    } catch (error) {
      this.busy = false
      this.problem = `The ${what} could not be computed; the last one stays. (${error instanceof Error ? error.message : error})`
    }
    this.withoutWorkers = engine.withoutWorkers
  }

  /** Takes over what the link says and begins to ask. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped } = readLink(this.#link, new URLSearchParams(location.search), this.#base)
    Object.assign(this.state, state)
    this.dropped = dropped
    // What it cannot use of the air the page tells, once.
    takeLinkedAir()
    if (state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const follow = () => {
      const now = preferences()
      this.units = now.units
      if (JSON.stringify(airOf(now)) !== JSON.stringify(this.air)) this.air = airOf(now)
      this.theme = shownTheme()
    }
    follow()
    this.ready = true
    for (const asked of this.#asked) $effect(() => asked.follow())
    for (const heard of this.#heard) $effect(() => heard.follow())
    const systemTheme = matchMedia('(prefers-color-scheme: dark)')
    systemTheme.addEventListener('change', follow)
    const forget = onPreferencesChange(follow)
    return () => {
      forget()
      systemTheme.removeEventListener('change', follow)
      this.ready = false
      this.#engine?.dispose()
      this.#engine = undefined
    }
  }

  /** The address that restores this state, air and feet or metres included; other figures' parts of the address stay. */
  address(): string {
    const units = this.units === 'ft' ? ('ft' as const) : ('own' as const)
    const state = { ...($state.snapshot(this.state) as S), units }
    const params = withAir(new URLSearchParams(location.search), this.air)
    const query = writeLink(this.#link, state, params, this.#base).toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}

const airOf = ({ temperatureC, humidityPct }: SiteAir): SiteAir => ({ temperatureC, humidityPct })
