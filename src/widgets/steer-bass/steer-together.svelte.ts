import type { SteerQuestion, SteerTogether } from '../../engine/questions/steer/steer-terms.ts'
import type { SteerTogetherSolved } from '../../engine/questions/steer/steer-together.ts'
import type { Engine } from '../../engine/workers/engine.ts'
import type { SteerBass } from './steer-bass.svelte.ts'

const channels = { plan: 'steer together plan', steps: 'steer together', answer: 'steer together answer' } as const

/** The boxes of a figure of steered bass solved together: asked for by a press, kept until the next. */
export class TogetherWork {
  readonly #steer: SteerBass
  readonly #engine: () => Engine | undefined
  /** How far the work is; null when none runs. */
  working: { done: number; total: number } | null = $state.raw(null)
  result: SteerTogether | null = $state.raw(null)
  /** The question that the result answers. */
  asked: SteerQuestion | null = $state.raw(null)
  problem = $state('')
  #askedKey = $state('')
  /** Which piece of work is the newest. */
  #run = 0

  constructor(steer: SteerBass, engine: () => Engine | undefined) {
    this.#steer = steer
    this.#engine = engine
  }

  /** All that the result depends on, as text. */
  #key = $derived.by(() => {
    const { rig, point, set, surroundings, front, behind, band } = this.#steer.question
    return JSON.stringify([rig, point, set, surroundings, front, behind, band])
  })
  /** Whether the set or what is round it has changed since the work was asked for. */
  stale = $derived(this.#askedKey !== '' && this.#askedKey !== this.#key)

  /** Solves the set as it stands; a newer press or `stop` ends it. */
  async solve(): Promise<void> {
    const engine = this.#engine()
    if (!engine || this.#steer.obstacle) return
    const run = ++this.#run
    const current = () => this.#run === run
    const question = { ...($state.snapshot(this.#steer.question) as SteerQuestion), error: 'none' as const }
    this.result = null
    this.problem = ''
    this.asked = question
    this.#askedKey = this.#key
    this.working = { done: 0, total: 1 }
    try {
      const plan = await engine.ask(channels.plan, 'steerTogetherPlan', question)
      if (!plan || !current()) return
      const steps: SteerTogetherSolved[] = []
      this.working = { done: 0, total: plan.length }
      const all = await engine.askEach(channels.steps, 'steerTogetherStep', plan, (step, index) => {
        steps[index] = step
        if (this.working && current()) this.working = { ...this.working, done: this.working.done + 1 }
      })
      if (!all || !current()) return
      const result = await engine.ask(channels.answer, 'steerTogether', { ...question, steps })
      if (result && current()) this.result = result
    } catch (error) {
      if (current())
        this.problem = `The boxes could not be solved together. (${error instanceof Error ? error.message : error})`
    } finally {
      if (current()) this.working = null
    }
  }

  stop(): void {
    this.#run++
    this.working = null
    this.asked = null
    this.#askedKey = ''
    for (const channel of Object.values(channels)) this.#engine()?.cancel(channel)
  }
}
