import { createEngine, type Engine } from '../../engine/engine.ts'
import type { HornAnswer, HornQuestion } from '../../engine/horn.ts'
import { type LengthUnit, onPreferencesChange, preferences, setPreferences } from '../../state/preferences.ts'
import { readLink, writeLink } from '../../state/share-link.ts'
import { type HornState, hornLink, questionOf } from './horn-link.ts'

/** The state of one horn figure, and what the engine has answered for it so far. */
export class Horn {
  readonly #base: HornState
  #engine: Engine | undefined

  state = $state({} as HornState)
  /** The newest answer, and the question that it answers: the drawing keeps to these. */
  answer = $state.raw({} as HornAnswer)
  answered = $state.raw({} as HornQuestion)
  withoutWorkers = $state(false)
  problem = $state('')
  dropped: string[] = $state.raw([])
  units: LengthUnit = $state('m')

  constructor(base: HornState, initial: HornAnswer) {
    this.#base = { ...base }
    this.state = { ...base }
    this.answer = initial
    this.answered = questionOf(base)
  }

  /** Takes over what the link says and starts answering. Returns the function that ends it. */
  start(): () => void {
    const { state, dropped } = readLink(hornLink, new URLSearchParams(location.search), this.#base)
    Object.assign(this.state, state)
    this.dropped = dropped
    if (state.units !== 'own') setPreferences({ units: state.units }, { keep: false })
    const follow = () => {
      this.units = preferences().units
    }
    follow()
    this.#engine = createEngine()
    const forget = onPreferencesChange(follow)
    return () => {
      forget()
      this.#engine?.dispose()
      this.#engine = undefined
    }
  }

  /** Asks for everything that the figure shows; the newest question wins. */
  async ask(question: HornQuestion): Promise<void> {
    if (!this.#engine) return
    try {
      const answer = await this.#engine.ask('horn', 'hornAnswer', question)
      if (answer) {
        this.answer = answer
        this.answered = question
      }
      this.problem = ''
    } catch (error) {
      this.problem = `This horn could not be computed; the last one stays. (${error instanceof Error ? error.message : error})`
    }
    this.withoutWorkers = this.#engine?.withoutWorkers ?? false
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(mouthM: number, coverageDeg: number, sampleRateHz: number) {
    return this.#engine?.ask('horn responses', 'hornResponses', { mouthM, coverageDeg, sampleRateHz, length: 8192 })
  }

  /** The address that restores this state, feet or metres included. */
  address(): string {
    const state = { ...$state.snapshot(this.state), units: this.units === 'ft' ? ('ft' as const) : ('own' as const) }
    const params = writeLink(hornLink, state, new URLSearchParams(location.search), this.#base)
    const query = params.toString()
    return `${location.pathname}${query ? `?${query}` : ''}${location.hash}`
  }
}
