import { clearPlace, type ListeningPlace } from '../../acoustics/field/listening-place.ts'
import { seededRandom } from '../../acoustics/signals/seeded-random.ts'
import type { BlindStage } from '../../engine/questions/blind/blind-terms.ts'
import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
import type { Engine } from '../../engine/workers/engine.ts'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import type { Audition } from '../../sound/audition-types.ts'
import { startVolumeDb } from '../../sound/audition-types.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
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
export class BlindComparison extends RigFigure<BlindState> {
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
      end()
    }
  }

  override get problems() {
    const failed = this.#failed
    return failed ? [{ what: 'sound', reason: failed.reason, again: () => this.begin(failed.stage) }] : []
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
    this.#audition ??= await this.#newAudition(engine, signal)
    const audition = this.#audition
    if (!audition) return
    await withTimeLimit(audition.setSignal(signal), makingLimitS, 'Making the sound')
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
    const [made, answer] = await withTimeLimit(answers, makingLimitS, 'Computing what is heard at the two places')
    if (!made || !answer || this.engine !== engine) return
    const { matched, frontLevelDbA, ...responses } = made
    audition.setResponses(responses)
    audition.setMatching({ matched, frontLevelDbA })
    // Who turned up for the bass alone is not met by the whole at that volume.
    if (this.go?.stage === 'bass-alone' && stage !== 'bass-alone') this.volumeDb = startVolumeDb
    audition.setVolumeDb(this.volumeDb)
    this.#random ??= seededRandom(this.state.seed || chanceSeed())
    this.difference = { answer, angleDeg, standIn }
    this.sitting = [
      ...this.sitting,
      { stage, signal, behind: drawBehind(trials, this.#random), said: [], brokenOff: false },
    ]
    this.#open(0)
  }

  /** What is listened through. Undefined if the page has been left while it was loading. */
  async #newAudition(engine: Engine, signal: BlindState['signal']): Promise<Audition | undefined> {
    const code = import('../../sound/audition.ts')
    const { createAudition } = await withTimeLimit(code, makingLimitS, 'Loading the sound')
    const making = createAudition({ signal })
    try {
      const made = await withTimeLimit(making, makingLimitS, 'Making the sound')
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
  play(letter: Letter): void {
    const behind = this.go?.behind[this.trial]
    if (!this.#audition || !behind || this.making) return
    if (this.sounding === letter) {
      this.stop()
      return
    }
    this.#audition.setPlace(letter === behind ? 'here' : 'front')
    this.#audition.start()
    this.sounding = letter
    this.listened = true
  }

  stop(): void {
    this.#audition?.stop()
    this.sounding = undefined
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
