// The player of the page: what a figure sounds like at two places, through one audition. Fetched with the first press.
import { untrack } from 'svelte'
import { usualDbA } from '../../engine/scene/scene-terms.ts'
import type { Audition, AuditionPlace, AuditionSignal, PlaceChangeDb } from '../../sound/audition-types.ts'
import { startVolumeDb } from '../../sound/audition-types.ts'
import type { FileLoop } from '../../sound/file-loop.ts'
import { loadSound } from '../../sound/load-sound.ts'
import { placeResponses } from '../../sound/place-responses.ts'
import { placesNotThere } from '../../sound/sound.messages.ts'
import { linkedChoice } from './linked-choice.ts'
import { type HeardFigure, pageSound, type Sounding } from './page-sound.svelte.ts'
import { bassRaisedDb, riseSteps } from './soft-start.ts'

/** What can be played: our own sounds, or the reader's file. */
export type PlayedSignal = AuditionSignal | 'file'

/** How long places, signal and level have to rest before what they change is told, ms: it is read, not heard. */
const restMs = 200

/** The things that can go wrong, one slot for each, so that none hides another. */
type Part = 'start' | 'signal' | 'places' | 'file'

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

/** The sound of the figures of a page, one at a time. */
class Player implements Sounding {
  heard: HeardFigure | undefined = $state.raw()
  where: AuditionPlace = $state('here')
  playing = $state(false)
  /** A figure's sound is being made, and will be heard when it is there. */
  starting = $state(false)
  /** Another signal is being made; the one before plays on until then. */
  makingSignal = $state(false)
  readingFile = $state(false)
  volumeDb = $state(startVolumeDb)
  turnedDownDb = $state(0)
  /** What the place here has more than the one in front, as played. */
  change: PlaceChangeDb | undefined = $state.raw()
  problems: Partial<Record<Part, { words: string; again?: () => void }>> = $state.raw({})
  file: (FileLoop & { name: string }) | undefined = $state.raw()
  /** What the reader, or the page's link, has chosen for the page; until then each figure plays what it offers first. */
  #choice: { signal?: PlayedSignal; level?: 'true' | 'matched' } = $state.raw(
    linkedChoice(new URLSearchParams(location.search)),
  )
  #audition: Audition | undefined = $state.raw()
  #making: Promise<Audition> | undefined
  /** What the responses in the audition were made for. */
  #taken: { figure: HeardFigure; key: string } | undefined
  /** How far the sound is still below its volume while it starts, dB. */
  #riseDb = $state(0)
  #retelling: ReturnType<typeof setTimeout> | undefined
  /** Counts starts and stops, so that an older one that still waits does nothing more. */
  #turn = 0

  constructor() {
    $effect.root(() => {
      $effect(() => {
        const [audition, figure, key] = [this.#audition, this.heard, this.heard?.responsesKey]
        if (audition && figure && key !== undefined && this.playing) untrack(() => this.#followPlaces(audition, figure))
      })
      $effect(() => {
        const [audition, figure] = [this.#audition, this.heard]
        if (!audition || !figure) return
        audition.setMatching({ matched: this.level === 'matched', frontLevelDbA: figure.frontLevelDbA ?? usualDbA })
        this.#retell()
      })
      $effect(() => {
        const volumeDb = Math.max(-60, this.volumeDb - this.#riseDb)
        this.#audition?.setVolumeDb(volumeDb, this.heard?.bassAlone ? bassRaisedDb : 0)
      })
      $effect(() => {
        pageSound.heard = this.heard && { figure: this.heard, where: this.where, playing: this.playing }
      })
    })
  }

  get signal(): PlayedSignal {
    const { signal } = this.#choice
    if (signal === 'speech' && this.heard?.bassAlone) return 'music'
    return signal ?? this.heard?.signal ?? 'pink-noise'
  }
  get level(): 'true' | 'matched' {
    return this.#choice.level ?? this.heard?.level ?? 'true'
  }
  get figure() {
    return this.heard?.figure
  }
  get part(): string {
    return ''
  }
  peak = (): number => this.#audition?.peak() ?? 0

  /** A press on an end of a switch: plays that place; pressed while it plays, it is silence. */
  async press(figure: HeardFigure, where: AuditionPlace): Promise<void> {
    const isSame = this.heard === figure
    if (isSame && this.playing && this.where === where) return this.stop()
    this.where = where
    if (!isSame) {
      this.cut()
      this.heard = figure
      this.change = undefined
      this.problems = {}
    }
    pageSound.take(this)
    if (this.playing) {
      this.#audition?.setPlace(where)
      return
    }
    // What is being made will be heard where it is wanted by then.
    if (!this.starting) await this.#start(figure)
  }
  stop = (): void => this.#end((audition) => audition.stop())
  cut = (): void => this.#end((audition) => audition.cut())

  /** Another signal or level, from now on for all figures of the page. */
  choose(choice: { signal?: PlayedSignal; level?: 'true' | 'matched' }): void {
    this.#choice = { ...this.#choice, ...choice }
    this.#tellFigure()
    if (!choice.signal) return
    // What was wrong with another signal's sound is not wrong with this one's.
    this.#settle('start')
    if (this.#audition) void this.#followSignal(this.#audition)
  }

  /** Plays a file of the reader's own. */
  async takeFile(file: File): Promise<void> {
    this.#settle('file')
    this.readingFile = true
    try {
      const { ownFileLoop } = await loadSound(import('../../sound/own-file.ts'))
      const audition = await this.#made()
      this.file = { ...(await ownFileLoop(file, audition.sampleRateHz)), name: file.name }
      this.choose({ signal: 'file' })
    } catch (error) {
      this.#tell('file', error)
    } finally {
      this.readingFile = false
    }
  }

  /** The figure's link says what is chosen; a file is in no link. */
  #tellFigure(): void {
    const { heard, signal, level } = this
    if (!heard) return
    if (signal !== 'file' && heard.signal !== signal) heard.signal = signal
    if (heard.level !== level) heard.level = level
  }

  async #start(figure: HeardFigure): Promise<void> {
    const mine = ++this.#turn
    this.#settle('start')
    this.starting = true
    try {
      const audition = await this.#ready(figure)
      if (mine !== this.#turn) return
      // The page keeps what its first figure began with.
      this.#choice = { signal: this.signal, level: this.level, ...this.#choice }
      this.#tellFigure()
      audition.setPlace(this.where)
      this.#rise()
      await audition.start()
      // Something else may have stopped it before it began.
      if (mine === this.#turn && audition.playing) this.playing = true
    } catch (error) {
      if (mine === this.#turn) this.#fallSilent(error)
    } finally {
      if (mine === this.#turn) this.starting = false
    }
  }

  /** The audition with the responses of a figure in it, and what is chosen. */
  async #ready(figure: HeardFigure): Promise<Audition> {
    const audition = await this.#made()
    if (this.#taken?.figure !== figure || this.#taken.key !== figure.responsesKey) {
      const key = figure.responsesKey
      try {
        const first = await placeResponses(figure.responses(audition.sampleRateHz))
        if (!first) throw new Error(placesNotThere())
        if (this.heard === figure) {
          audition.setResponses(first)
          this.#taken = { figure, key }
          this.#retell()
        }
      } catch (error) {
        // Browsers allow a page only a handful of contexts, and this one has nothing to play.
        if (!this.#taken) this.#forget(audition)
        throw error
      }
    }
    await audition.setSignal(this.#loop)
    return audition
  }

  get #loop(): AuditionSignal | Float32Array {
    const { signal, file } = this
    if (signal === 'file') return file?.samples ?? this.heard?.signal ?? 'pink-noise'
    return signal
  }

  #made(): Promise<Audition> {
    if (this.#audition && !this.#audition.disposed) return Promise.resolve(this.#audition)
    this.#making ??= this.#make().finally(() => {
      this.#making = undefined
    })
    return this.#making
  }
  async #make(): Promise<Audition> {
    this.turnedDownDb = 0
    this.#taken = undefined
    const { createAudition } = await loadSound(import('../../sound/audition.ts'))
    const { signal } = this
    const audition = await createAudition({
      signal: signal === 'file' ? 'pink-noise' : signal,
      onTaken: (words) => this.#fallSilent(words),
      onTurnedDown: (decibels) => {
        this.turnedDownDb = decibels
      },
    })
    this.#audition = audition
    return audition
  }
  #forget(audition: Audition): void {
    audition.dispose()
    if (this.#audition === audition) this.#audition = undefined
  }

  #end(how: (audition: Audition) => void): void {
    this.#turn++
    this.starting = false
    this.playing = false
    if (this.#audition) how(this.#audition)
    pageSound.release(this)
  }

  /** The sound has not come, or was taken away: the switch says so, and a press brings it back. */
  #fallSilent(error: unknown): void {
    this.#turn++
    this.playing = false
    this.starting = false
    pageSound.release(this)
    if (this.#audition?.disposed) {
      this.#audition = undefined
      // The next one is made for whatever the figure stands at then.
      this.#taken = undefined
      this.problems = {}
    }
    this.#tell('start', error, () => this.heard && this.press(this.heard, this.where))
  }

  async #followPlaces(audition: Audition, figure: HeardFigure): Promise<void> {
    const key = figure.responsesKey
    if (this.#taken?.figure === figure && this.#taken.key === key) return
    const isWanted = () => this.heard === figure && figure.responsesKey === key
    this.#settle('places')
    try {
      const fresh = await placeResponses(figure.responses(audition.sampleRateHz))
      if (!fresh || !isWanted()) return
      audition.setResponses(fresh)
      this.#taken = { figure, key }
      this.#retell()
    } catch (error) {
      if (isWanted()) this.#tell('places', error, () => this.#followPlaces(audition, figure))
    }
  }
  async #followSignal(audition: Audition): Promise<void> {
    const wanted = this.signal
    this.#settle('signal')
    this.makingSignal = true
    try {
      await audition.setSignal(this.#loop)
      this.#retell()
    } catch (error) {
      if (this.signal === wanted) this.#tell('signal', error, () => this.#followSignal(audition))
    } finally {
      if (this.signal === wanted) this.makingSignal = false
    }
  }

  /** Tells anew what the places change, when they rest. */
  #retell(): void {
    clearTimeout(this.#retelling)
    this.#retelling = setTimeout(() => {
      this.change = this.#audition && this.#taken && !this.#audition.disposed ? this.#audition.changeDb() : undefined
    }, restMs)
  }

  /** From below up to the volume, so that a device that was left loud startles nobody. */
  #rise(): void {
    const mine = this.#turn
    const { everyMs, depthsDb } = riseSteps
    const step = (index: number) => {
      if (mine !== this.#turn && index > 0) return
      this.#riseDb = depthsDb[index] ?? 0
      if (index < depthsDb.length) setTimeout(() => step(index + 1), everyMs)
    }
    step(0)
  }

  #tell(part: Part, error: unknown, again?: () => void): void {
    this.problems = { ...this.problems, [part]: { words: wordsOf(error), ...(again && { again }) } }
  }
  #settle(part: Part): void {
    const { [part]: _, ...others } = this.problems
    this.problems = others
  }
}

export const player = new Player()
