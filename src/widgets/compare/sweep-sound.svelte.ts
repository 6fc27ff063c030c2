// The sweeps as they are played here: once, from their beginning, through the page's sound, as loud as the reader sets them.

import { gainFromDb } from '../../sound/gain.ts'
import { loadSound } from '../../sound/load-sound.ts'
import type { HeardRecording } from '../../sound/loop-pair.ts'
import type { OncePlayer } from '../../sound/once-player.ts'
import { pageSound, type Sounding } from '../player/page-sound.svelte.ts'

/** How far below the pink noise the sweeps begin, dB: a device that was left loud startles nobody. */
export const softDb = -20

export class SweepSound implements Sounding {
  isPlaying = $state(false)
  problem = $state('')
  readonly part: string
  readonly #figure: () => Element | null | undefined
  #volumeDb = $state(softDb)
  #player: OncePlayer | undefined
  #left = false
  /** Counts the presses, so that an older one that still waits does nothing more. */
  #turn = 0

  /**
   * @param figure  that it belongs to
   * @param part    what the bar calls it
   */
  constructor(figure: () => Element | null | undefined, part: string) {
    this.#figure = figure
    this.part = part
  }

  /** Returns the function that ends it. */
  start(): () => void {
    return () => {
      this.#left = true
      this.stop()
      this.#player?.dispose()
    }
  }
  get figure(): Element | null | undefined {
    return this.#figure()
  }
  peak = (): number => this.#player?.peak() ?? 0

  /** dB re the pink noise of the page. */
  get volumeDb(): number {
    return this.#volumeDb
  }
  set volumeDb(volumeDb: number) {
    this.#volumeDb = volumeDb
    this.#player?.turn(gainFromDb(volumeDb))
  }

  stop = (): void => {
    this.#turn++
    this.#silent()
    this.#player?.stop()
  }
  #silent = (): void => {
    this.isPlaying = false
    pageSound.release(this)
  }

  /** Plays from the beginning; pressed while it plays, it is silence. */
  press = async (sound: () => Promise<HeardRecording | undefined>): Promise<void> => {
    if (this.isPlaying) return this.stop()
    this.problem = ''
    const mine = ++this.#turn
    try {
      const [{ createOncePlayer }, given] = await Promise.all([
        loadSound(import('../../sound/once-player.ts')),
        sound(),
      ])
      // Left or pressed again while the sound was loading.
      if (this.#left || mine !== this.#turn || !given) return
      if (this.#player?.disposed) this.#player = undefined
      this.#player ??= createOncePlayer({ onSilent: this.#silent, onTaken: (words) => this.#fail(words) })
      pageSound.take(this)
      this.isPlaying = true
      await this.#player.play(given, gainFromDb(this.#volumeDb))
    } catch (error) {
      if (mine === this.#turn) this.#fail(error)
    }
  }

  #fail(error: unknown): void {
    this.stop()
    this.problem = error instanceof Error ? error.message : String(error)
  }
}
