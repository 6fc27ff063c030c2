import { clearPlace, type ListeningPlace } from '../../acoustics/field/listening-place.ts'
import type { Rig } from '../../acoustics/field/rig.ts'
import { seededRandom } from '../../acoustics/signals/seeded-random.ts'
import type { BlindStage } from '../../engine/questions/blind/blind-terms.ts'
import type { WalkAnswer } from '../../engine/questions/walk/walk.ts'
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

/**
 * The state of one blind comparison. What is behind in which trial is kept here and reaches the page only once it is told;
 * the sound holds the same pair of responses through a whole stage, and a press only moves the ear between them.
 */
export class BlindComparison extends RigFigure<BlindState> {
  answer = $state.raw({} as WalkAnswer)
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

  #audition: Audition | undefined
  #random: (() => number) | undefined

  constructor(rigs: RigChoice[], base: BlindState, initial: WalkAnswer) {
    super(blindLink, rigs, base)
    this.answer = initial
  }

  place: ListeningPlace = $derived.by(() =>
    clearPlace({ angleRad: (this.state.angleDeg * Math.PI) / 180, distanceM: this.state.distanceM }, this.rig.rig),
  )
  /** The go that is under way or was done last. */
  go: Go | undefined = $derived(this.sitting.at(-1))
  underWay = $derived(this.go !== undefined && isUnderWay(this.go))
  /** What the reader said in the trial that is shown. */
  said: Letter | undefined = $derived(this.go?.said[this.trial])
  /** Whether an answer has been given since the start: place, rig and number of trials then stay as they are. */
  settled = $derived(this.sitting.some(({ said }) => said.length > 0))
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

  /** Asks for what differs between the two places. */
  async askAnswer(rig: Rig, place: ListeningPlace): Promise<void> {
    await this.attempt('difference', async (engine) => {
      const answer = await engine.ask('difference', 'walkAnswer', { rig, place, datum: 'front-face' })
      if (answer) this.answer = answer
    })
  }

  /** Makes the sound of a stage and begins a new go at it. */
  async begin(stage: BlindStage): Promise<void> {
    if (this.making || this.underWay) return
    this.stop()
    this.making = stage
    await this.attempt('sound', async (engine) => {
      const { signal, trials } = this.state
      if (!this.#audition) {
        const { createAudition } = await import('../../sound/audition.ts')
        const made = await createAudition({ signal })
        // The page may have been left while the sound was loading.
        if (this.engine !== engine) return made.dispose()
        this.#audition = made
      }
      const audition = this.#audition
      await audition.setSignal(signal)
      const made = await engine.ask('responses', 'blindResponses', {
        rig: this.rig.rig,
        place: $state.snapshot(this.place) as ListeningPlace,
        datum: 'front-face',
        stage,
        sampleRateHz: audition.sampleRateHz,
        length: responseLength,
      })
      if (!made || this.engine !== engine) return
      const { matched, frontLevelDbA, ...responses } = made
      audition.setResponses(responses)
      audition.setMatching({ matched, frontLevelDbA })
      // Who turned up for the bass alone is not met by the whole at that volume.
      if (this.go?.stage === 'bass-alone' && stage !== 'bass-alone') this.volumeDb = startVolumeDb
      audition.setVolumeDb(this.volumeDb)
      this.#random ??= seededRandom(this.state.seed || chanceSeed())
      this.sitting = [
        ...this.sitting,
        { stage, signal, behind: drawBehind(trials, this.#random), said: [], brokenOff: false },
      ]
      this.#open(0)
    })
    this.making = undefined
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
