// What of a test can be heard: the noise to play, and both recordings as loud as each other. One at a time, through the page's sound.

import { loadSound } from '../../sound/load-sound.ts'
import type { HeardRecording, LoopPair } from '../../sound/loop-pair.ts'
import { pageSound, type Sounding } from '../player/page-sound.svelte.ts'

export class Hearing implements Sounding {
  /** Which of the recordings sounds; undefined for silence. */
  heard: number | undefined = $state()
  problem = $state('')
  readonly #names: () => readonly string[]
  readonly #figure: () => Element | null | undefined
  #pair: LoopPair | undefined
  #left = false
  /** Counts the presses, so that an older one that still waits does nothing more. */
  #turn = 0

  /**
   * @param figure  that it belongs to
   * @param names   what the bar calls each of them
   */
  constructor(figure: () => Element | null | undefined, names: () => readonly string[]) {
    this.#figure = figure
    this.#names = names
  }

  /** Returns the function that ends it. */
  start(): () => void {
    return () => {
      this.#left = true
      this.stop()
      this.#pair?.dispose()
    }
  }
  get figure(): Element | null | undefined {
    return this.#figure()
  }
  get part(): string {
    return this.heard === undefined ? '' : (this.#names()[this.heard] ?? '')
  }
  peak = (): number => this.#pair?.peak() ?? 0

  stop = (): void => {
    this.#turn++
    this.heard = undefined
    pageSound.release(this)
    this.#pair?.stop()
  }

  /** Plays one of them; pressed while it plays, it is silence. */
  press = async (recordings: () => Promise<readonly HeardRecording[] | undefined>, index: number): Promise<void> => {
    if (this.heard === index) return this.stop()
    this.problem = ''
    const mine = ++this.#turn
    try {
      const [{ createLoopPair }, given] = await Promise.all([
        loadSound(import('../../sound/loop-pair.ts')),
        recordings(),
      ])
      // Left or pressed again while the sound was loading.
      if (this.#left || mine !== this.#turn || !given) return
      if (this.#pair?.disposed) this.#pair = undefined
      this.#pair ??= createLoopPair({ onTaken: (words) => this.#fail(words) })
      pageSound.take(this)
      this.heard = index
      await this.#pair.play(given, index)
    } catch (error) {
      if (mine === this.#turn) this.#fail(error)
    }
  }

  #fail(error: unknown): void {
    this.stop()
    this.problem = error instanceof Error ? error.message : String(error)
  }
}
