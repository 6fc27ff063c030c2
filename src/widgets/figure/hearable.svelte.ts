import { untrack } from 'svelte'

/** What two places sound like: the responses are made when the reader listens, and anew when the figure has moved on. */
export class Hearable<Q, R> {
  readonly #question: () => Q
  readonly #ask: (question: Q, sampleRateHz: number) => Promise<R | undefined>
  readonly #restS: number
  #restingKey = $state('')
  #making = $state(0)
  /** The responses that were made last. */
  made: R | undefined = $state.raw()

  /**
   * @param question  what is heard, as the figure stands now; read like a $derived
   * @param ask       has the responses made
   * @param restS     how long the figure must rest before other responses are wanted: long where they take seconds
   */
  constructor(question: () => Q, ask: (question: Q, sampleRateHz: number) => Promise<R | undefined>, restS = 0) {
    this.#question = question
    this.#ask = ask
    this.#restS = restS
  }

  #wantedKey = $derived.by(() => JSON.stringify(this.#question()))
  /** Changes when other responses are wanted. */
  get key(): string {
    return this.#restS > 0 ? this.#restingKey : this.#wantedKey
  }
  /** Whether responses are being made. */
  get making(): boolean {
    return this.#making > 0
  }

  /** For the figure, in an effect. */
  follow(): (() => void) | undefined {
    const key = this.#wantedKey
    if (this.#restS === 0) return undefined
    const timer = setTimeout(() => (this.#restingKey = key), this.#restS * 1000)
    return () => clearTimeout(timer)
  }

  /** Impulse responses of both places; undefined when newer ones have been asked for meanwhile. */
  responses = async (sampleRateHz: number): Promise<R | undefined> => {
    const question = untrack(() => $state.snapshot(this.#question()) as Q)
    this.#making += 1
    try {
      const made = await this.#ask(question, sampleRateHz)
      if (made) this.made = made
      return made
    } finally {
      this.#making -= 1
    }
  }
}
