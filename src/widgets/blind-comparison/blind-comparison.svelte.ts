import { clearPlace, type ListeningPlace } from '../../acoustics/field/listening-place.ts'
import { seededRandom } from '../../acoustics/signals/seeded-random.ts'
import type { BlindStage } from '../../engine/questions/blind/blind-terms.ts'
import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import type { Engine } from '../../engine/workers/engine.ts'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import type { Audition } from '../../sound/audition-types.ts'
import { startVolumeDb } from '../../sound/audition-types.ts'
import { loadSound } from '../../sound/load-sound.ts'
import { pageSound, type Sounding } from '../player/page-sound.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import * as say from './blind-comparison.messages.ts'
import { type BlindState, blindLink } from './blind-comparison-link.ts'
import {
  chanceSeed,
  drawBehind,
  type Go,
  isComplete,
  isUnderWay,
  type Letter,
  type Sitting,
  stageResults,
} from './blind-trials.ts'

/** Length of the responses, samples. */
const responseLength = 8192

/** How long a part of the making of a stage's sound may take, s: the music is synthesised, and a rig may be being solved meanwhile. */
const makingLimitS = 120

/** What differs between the two sounds of a stage: computed with them, of the same rig and place in the same air. */
export type Difference = {
  answer: WalkAnswer
  angleDeg: number
  /** Why a hard ball stands in for the rig's boxes, in the sounds as in the answer, or ''. */
  standIn: string
}

/**
 * The state of one blind comparison. What is behind in which trial is kept here and reaches the page only once it is told;
 * the sound holds the same pair of responses through a whole stage, and a press only moves the ear between them.
 */
export class BlindComparison extends RigFigure<BlindState> implements Sounding {
  /** What differs between the two sounds of the newest go: all that is told of them comes from here. */
  difference: Difference | undefined = $state.raw()
  sitting: Sitting = $state.raw([])
  /** Index of the trial that is shown, in the newest go. */
  trial = $state(0)
  /** What sounds now. */
  sounding: Letter | undefined = $state()
  /** Whether something has been listened to in this trial. */
  listened = $state(false)
  /** The stage whose sound is being made. */
  making: BlindStage | undefined = $state()
  volumeDb = $state(startVolumeDb)
  /** By how many dB both sounds are played below that, so that nothing clips. */
  turnedDownDb = $state(0)
  /** Which of the two could not be heard, or was taken away while it played, and why. */
  silent: { letter: Letter; words: string } | undefined = $state.raw()

  /** The stage whose sound could not be made, and why. */
  #failed: { stage: BlindStage; reason: string } | undefined = $state.raw()
  #audition: Audition | undefined
  #random: (() => number) | undefined

  constructor(rigs: RigChoice[], base: BlindState) {
    super(blindLink, rigs, base)
  }

  place: ListeningPlace = $derived.by(() =>
    clearPlace({ angleRad: (this.state.angleDeg * Math.PI) / 180, distanceM: this.state.distanceM }, this.rig.rig),
  )
  /** The go that is under way or was done last. */
  go: Go | undefined = $derived(this.sitting.at(-1))
  underWay = $derived(this.go !== undefined && isUnderWay(this.go))
  /** What the reader said in the trial that is shown. */
  said: Letter | undefined = $derived(this.go?.said[this.trial])
  /** Whether a go is under way or an answer has been given since the start: place, rig and number of trials then stay as they are. */
  settled = $derived(this.underWay || this.sitting.some(({ said }) => said.length > 0))
  results = $derived(stageResults(this.sitting))

  /** Takes over what the link says. Returns the function that ends it. */
  override start(): () => void {
    const end = super.start()
    return () => {
      this.#audition?.dispose()
      this.#audition = undefined
      pageSound.release(this)
      end()
    }
  }

  override get problems() {
    const failed = this.#failed
    if (!failed) return []
    const lastStays = this.go !== undefined
    return [{ what: 'sound', reason: failed.reason, lastStays, again: () => this.begin(failed.stage) }]
  }

  override get standIn() {
    const { standIn = '' } = this.difference ?? {}
    return standIn === '' ? undefined : { reason: standIn, again: () => this.#beginAnew() }
  }

  /** Makes the sound of a stage and begins a new go at it. */
  async begin(stage: BlindStage): Promise<void> {
    const { engine } = this
    if (this.making || this.underWay || !engine) return
    this.stop()
    this.making = stage
    try {
      await this.#make(engine, stage)
      this.#failed = undefined
    } catch (error) {
      this.#failed = { stage, reason: error instanceof Error ? error.message : String(error) }
    }
    this.withoutWorkers = engine.withoutWorkers
    this.making = undefined
  }

  /** Makes the sound of the newest go's stage once more: what had to stand in for something may be had by now. */
  async #beginAnew(): Promise<void> {
    const { go } = this
    if (!go || this.making) return
    this.breakOff()
    await this.begin(go.stage)
  }

  async #make(engine: Engine, stage: BlindStage): Promise<void> {
    const { signal, trials, angleDeg } = $state.snapshot(this.state)
    const made = await this.#makeSound(engine, stage)
    if (!made) return
    // Who turned up for the bass alone is not met by the whole at that volume.
    if (this.go?.stage === 'bass-alone' && stage !== 'bass-alone') this.setVolumeDb(startVolumeDb)
    this.#random ??= seededRandom(this.state.seed || chanceSeed())
    this.difference = { ...made, angleDeg }
    this.sitting = [
      ...this.sitting,
      { stage, signal, behind: drawBehind(trials, this.#random), said: [], brokenOff: false },
    ]
    this.#open(0)
  }

  /** Makes the two sounds of a stage, ready to be played. Undefined if the page has been left meanwhile. */
  async #makeSound(engine: Engine, stage: BlindStage): Promise<Omit<Difference, 'angleDeg'> | undefined> {
    const { signal } = this.state
    // A context that the browser has closed never plays again.
    if (this.#audition?.disposed) this.#audition = undefined
    this.#audition ??= await this.#newAudition(engine, signal)
    const audition = this.#audition
    if (!audition) return undefined
    await withTimeLimit(audition.setSignal(signal), makingLimitS, say.makingSound())
    const question = {
      rig: this.rig.rig,
      place: $state.snapshot(this.place) as ListeningPlace,
      datum: 'front-face',
      air: this.air,
    } as const
    let standIn = ''
    const options = { onStandIn: (reason: string) => (standIn = reason) }
    const { sampleRateHz } = audition
    const answers = Promise.all([
      engine.ask('sound', 'blindResponses', { ...question, stage, sampleRateHz, length: responseLength }, options),
      engine.ask('difference', 'walkAnswer', question, options),
    ])
    const [made, answer] = await withTimeLimit(answers, makingLimitS, say.computing())
    if (!made || !answer || this.engine !== engine) return undefined
    const { matched, frontLevelDbA, ...responses } = made
    audition.setResponses(responses)
    audition.setMatching({ matched, frontLevelDbA })
    audition.setVolumeDb(this.volumeDb)
    return { answer, standIn }
  }

  /** What is listened through. Undefined if the page has been left while it was loading. */
  async #newAudition(engine: Engine, signal: BlindState['signal']): Promise<Audition | undefined> {
    const { createAudition } = await loadSound(import('../../sound/audition.ts'))
    this.turnedDownDb = 0
    const making = createAudition({
      signal,
      onTaken: (words) => this.#fallSilent(this.sounding ?? 'A', words),
      onTurnedDown: (decibels) => {
        this.turnedDownDb = decibels
      },
    })
    try {
      const made = await withTimeLimit(making, makingLimitS, say.makingSound())
      if (this.engine === engine) return made
      made.dispose()
      return undefined
    } catch (error) {
      // Whatever comes of it after all is not waited for any more.
      making.then((late) => late.dispose()).catch(() => {})
      throw error
    }
  }

  /** Lets one of the two be heard; pressed again, it stops. */
  async play(letter: Letter): Promise<void> {
    const { go, engine } = this
    const behind = go?.behind[this.trial]
    if (!go || !engine || !behind || this.making) return
    if (this.sounding === letter) {
      this.stop()
      return
    }
    this.silent = undefined
    try {
      if (this.#audition?.disposed) await this.#makeAgain(engine, go.stage)
      this.#audition?.setPlace(letter === behind ? 'here' : 'front')
      pageSound.take(this)
      await this.#audition?.start()
      // Something may have stopped it before it began.
      if (!this.#audition?.playing || pageSound.now !== this) return
      this.sounding = letter
      this.listened = true
    } catch (error) {
      this.#fallSilent(letter, error instanceof Error ? error.message : String(error))
    }
  }

  /** The same two sounds of the go that is under way once more. */
  async #makeAgain(engine: Engine, stage: BlindStage): Promise<void> {
    this.making = stage
    try {
      await this.#makeSound(engine, stage)
    } finally {
      this.making = undefined
    }
  }

  /** The sound has not come, or was taken away: the buttons say so, and a press brings it back. */
  #fallSilent(letter: Letter, words: string): void {
    pageSound.release(this)
    this.sounding = undefined
    this.silent = { letter, words }
  }

  get figure(): Element | null {
    return document.querySelector('.figure.blind')
  }
  get part(): string {
    return this.sounding ?? ''
  }
  peak = (): number => this.#audition?.peak() ?? 0

  stop(): void {
    this.#audition?.stop()
    this.#isSilent()
  }
  cut(): void {
    this.#audition?.cut()
    this.#isSilent()
  }
  #isSilent(): void {
    pageSound.release(this)
    this.sounding = undefined
    this.silent = undefined
  }

  /** Takes the answer to the trial that is shown. Without feedback the next trial follows at once. */
  say(letter: Letter): void {
    const go = this.go
    if (!go || !this.underWay || this.said || !this.listened) return
    const answered = { ...go, said: [...go.said, letter] }
    this.sitting = [...this.sitting.slice(0, -1), answered]
    if (isComplete(answered)) this.stop()
    else if (this.state.feedback === 'off') this.next()
  }

  /** Goes on to the next trial, in silence: a sound that changed while it played would tell whether A and B have changed places. */
  next(): void {
    if (!this.go || !this.said || !this.underWay) return
    this.stop()
    this.#open(this.trial + 1)
  }

  /** Ends the go that is under way without a verdict. */
  breakOff(): void {
    const go = this.go
    if (!go || !this.underWay) return
    this.stop()
    this.sitting = [...this.sitting.slice(0, -1), { ...go, brokenOff: true }]
  }

  /** Forgets every answer. */
  startAgain(): void {
    this.stop()
    this.sitting = []
    this.difference = undefined
    this.#open(0)
  }

  setVolumeDb(volumeDb: number): void {
    this.volumeDb = volumeDb
    this.#audition?.setVolumeDb(volumeDb)
  }

  #open(trial: number): void {
    this.trial = trial
    this.listened = false
  }
}
