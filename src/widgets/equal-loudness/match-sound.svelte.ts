import { loadSound } from '../../sound/load-sound.ts'
import type { TonePlayer } from '../../sound/tone-player.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { pageSound, type Sounding } from '../player/page-sound.svelte.ts'
import type { MatchByEar } from './match-by-ear.svelte.ts'
import { referencePeakDb } from './matched-tones.ts'

const burstS = 0.5
const gapS = 0.15
/** Without a move of the slider the tones end by themselves after so many. */
const mostBursts = 60

/** The sound of one listening test: 1 kHz and the tone in hand by turns. Nothing loads or plays before a press. */
export class MatchSound implements Sounding {
  playing = $state(false)
  soundingHz: number | undefined = $state()
  problem = $state('')
  readonly #match: MatchByEar
  #player: TonePlayer | undefined
  #left = false
  #burstsLeft = 0
  /** Counts the presses, so that an older one that still waits does nothing more. */
  #turn = 0

  constructor(match: MatchByEar) {
    this.#match = match
  }

  /** Returns the function that ends it. */
  start(): () => void {
    return () => {
      this.#left = true
      pageSound.release(this)
      this.#player?.dispose()
    }
  }

  get figure(): Element | null {
    return document.querySelector('.figure.match')
  }
  get part(): string {
    return this.soundingHz === undefined ? '' : frequencyText(this.soundingHz)
  }
  peak = (): number => this.#player?.peak() ?? 0

  stop = (): void => {
    this.#turn++
    pageSound.release(this)
    this.#player?.stop()
    this.playing = false
    this.soundingHz = undefined
  }

  /** Plays; pressed again, it stops. */
  play = async (): Promise<void> => {
    if (this.playing) return this.stop()
    this.problem = ''
    const mine = ++this.#turn
    try {
      const { createTonePlayer } = await loadSound(import('../../sound/tone-player.ts'))
      // The page may have been left while the sound was loading.
      if (this.#left || mine !== this.#turn) return
      this.#player ??= createTonePlayer({ onSilent: this.stop, onTaken: (words) => this.#fail(words) })
      this.goOn()
      pageSound.take(this)
      let isReference = false
      await this.#player.play(() => {
        if (this.#burstsLeft-- <= 0) return undefined
        isReference = !isReference
        const frequencyHz = isReference ? 1000 : this.#match.state.frequencyHz
        this.soundingHz = frequencyHz
        const peakDb = referencePeakDb + (isReference ? 0 : this.#match.differenceDb)
        return { frequencyHz, peakDb, durationS: burstS, gapS }
      })
      if (mine === this.#turn) this.playing = true
    } catch (error) {
      if (mine === this.#turn) this.#fail(error)
    }
  }

  /** The reader is still at it: the tones go on for their whole time again. */
  goOn(): void {
    this.#burstsLeft = mostBursts
  }

  #fail(error: unknown): void {
    this.stop()
    if (this.#player?.disposed) this.#player = undefined
    this.problem = error instanceof Error ? error.message : String(error)
  }
}
