import type { Verdict } from '../../acoustics/index.ts'
import type { LevelSource } from '../../engine/questions/compare/compare-terms.ts'
import { type PracticeName, practiceSeed } from '../../engine/questions/compare/practice-terms.ts'
import type { RecordingSound } from '../../engine/questions/compare/recording-sound.ts'
import { refusedWords } from '../../engine/questions/compare/refused.ts'
import type { SentTest } from '../../engine/questions/compare/sent.ts'
import type { HallDesign } from '../../engine/scene/hall-scene.ts'
import { usualDbA } from '../../engine/scene/scene-terms.ts'
import { analyseRecording } from '../../engine/workers/analyse-recording.ts'
import type { Answer, Question, TaskName } from '../../engine/workers/tasks.ts'
import type { Asking } from '../figure/asked.svelte.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { RigFigure } from '../rig-choice/rig-figure.svelte.ts'
import * as say from './compare.messages.ts'
import { type CompareState, compareLink } from './compare-link.ts'
import { practiceKey } from './describe-take.ts'
import { withSwept } from './kept-sweep.ts'
import {
  boxOrHallQuestionOf,
  changeTest,
  emptyTest,
  isDone,
  type KeptMicrophone,
  type KeptStep,
  type KeptTest,
  keptTest,
  onTestChange,
  type PartName,
  type PlaceName,
  questionOf,
  type SetUp,
  type StepName,
  skippedStep,
  stepNames,
  type Wanted,
  withBoth,
  withPart,
} from './kept-test.ts'
import { failed as fileFailed } from './microphone.messages.ts'
import { Recordings } from './recordings.svelte.ts'
import { type GivenFile, type SweepJob, takeSweep } from './take-sweep.ts'

/** What is taken in for a step: a recording or a table of the reader's, or one of the practice set. */
type StepJob = { step: StepName; nr: number } & (
  | ({ kind: 'recording' | 'table' } & GivenFile)
  | { kind: 'practice'; practice: PracticeName }
)
type Job = StepJob | SweepJob

/** Sound of a step that is held in memory to be heard. */
type HeldSound = Partial<Record<PlaceName, { sampleRateHz: number; samples: Float32Array }>>

/** The test with two microphones: what was measured, what is measured now, and the verdict. */
export class Comparison extends RigFigure<CompareState> {
  test: KeptTest = $state.raw(emptyTest())
  /** Why the test is not kept, or ''. */
  keepingProblem = $state('')
  /** Why the newest thing that was given for a step was not taken. */
  refusals: Partial<Record<PartName, string>> = $state.raw({})
  /** The same of the newest file of either microphone. */
  fileRefusals: Partial<Record<PlaceName, string>> = $state.raw({})
  sounds: Partial<Record<StepName, HeldSound>> = $state.raw({})
  /** What was recorded here. */
  readonly recordings = new Recordings()
  #job: Job | undefined = $state.raw()
  #jobs = 0

  /** Where the practice sweeps are played. */
  readonly practiceHall: HallDesign
  readonly taken
  readonly compared
  readonly predicted
  readonly boxOrHall

  constructor(rigs: RigChoice[], practiceHall: HallDesign, base: CompareState) {
    super(compareLink, rigs, base)
    this.practiceHall = $state.snapshot(practiceHall) as HallDesign
    this.taken = this.works<Job, true>(
      () => this.#job,
      (asking, job) => this.#takeIn(asking, job),
      { what: 'recording' },
    )
    this.compared = this.asks('compareAnswer', () => questionOf(this.test, usualDbA), {
      what: 'verdict',
      about: () => this.test,
    })
    this.boxOrHall = this.asks('boxOrHallAnswer', () => boxOrHallQuestionOf(this.test), {
      what: 'sweep',
      about: () => this.test,
    })
    this.predicted = this.asks('predictedAnswer', () => this.#predictedQuestion(), { what: 'prediction' })
  }

  /** The step that is measured now; undefined while nothing is. */
  get busy(): PartName | undefined {
    return this.taken.problem === '' ? this.#job?.step : undefined
  }
  /** The first step that is still to be done; 'verdict' when all are. */
  next: StepName | 'verdict' = $derived(stepNames.find((name) => !isDone(this.test.steps[name])) ?? 'verdict')

  override start(): () => void {
    const end = super.start()
    const follow = () => {
      const { test, problem } = keptTest()
      // What another tab has measured anew has no sound here.
      const { steps } = this.test
      const same = stepNames.filter((name) => JSON.stringify(test.steps[name]) === JSON.stringify(steps[name]))
      this.sounds = Object.fromEntries(same.map((name) => [name, this.sounds[name]]))
      this.test = test
      this.keepingProblem = problem
    }
    follow()
    const forget = onTestChange(follow)
    return () => {
      forget()
      end()
    }
  }

  #predictedQuestion() {
    const { setUp } = this.test
    if (!isDone(this.test.steps.sound)) return undefined
    return {
      rig: this.rig.rig,
      frontM: setUp.frontM,
      behindM: setUp.behindM,
      wallM: setUp.walls === 'some' ? setUp.wallBehindM : null,
      bringTogether: setUp.bringTogether,
    }
  }

  async #change(change: (before: KeptTest) => KeptTest): Promise<void> {
    const { test, problem } = await changeTest(this.test, change)
    this.test = test
    this.keepingProblem = problem
  }
  set(part: Partial<SetUp>): void {
    // Seen at once, kept a moment later.
    this.test = { ...this.test, setUp: { ...this.test.setUp, ...part } }
    void this.#change((before) => ({ ...before, setUp: { ...before.setUp, ...part } }))
  }
  #setStep(name: StepName, step: (before: KeptStep) => KeptStep): Promise<void> {
    return this.#change((before) => ({ ...before, steps: { ...before.steps, [name]: step(before.steps[name]) } }))
  }
  skip(step: StepName): void {
    this.refuse(step, '')
    void this.#setStep(step, skippedStep)
  }
  replace(test: KeptTest): Promise<void> {
    this.refusals = {}
    this.fileRefusals = {}
    this.sounds = {}
    this.recordings.clear()
    return this.#change(() => test)
  }

  /** What a part of the test has of each place, by name. */
  partsOf(part: PartName): Record<PlaceName, { name: string } | null> {
    if (part !== 'sweep') return this.test.steps[part]
    const { front = null, behind = null } = this.test.sweep ?? {}
    return { front, behind }
  }

  take(step: StepName, wanted: Wanted, kind: 'recording' | 'table', file: File): void {
    this.#begin({ step, kind, ...this.#given(wanted, file) })
  }
  takeSweep(wanted: Wanted, file: File): void {
    this.#begin({ step: 'sweep', kind: 'recording', ...this.#given(wanted, file) })
  }
  practiseSweep(): void {
    this.#begin({ step: 'sweep', kind: 'practice', nr: ++this.#jobs })
  }
  dropSweep(): void {
    this.refuse('sweep', '')
    void this.#change(({ sweep: _, ...rest }) => rest)
  }
  #given(wanted: Wanted, file: File): GivenFile & { nr: number } {
    const { name, size, lastModified } = file
    return { wanted, file, name, size, lastModified, nr: ++this.#jobs }
  }
  practise(step: StepName, practice: PracticeName): void {
    this.#begin({ step, kind: 'practice', practice, nr: ++this.#jobs })
  }
  /** Takes in how a microphone departs from a flat one; what was wrong with the file stands in `fileRefusals`. */
  async takeMicrophone(place: PlaceName, file: File): Promise<void> {
    const { name } = file
    this.#refuseFile(place, '')
    try {
      const read = await this.engine?.ask(`microphone ${place}`, 'microphoneFile', { file })
      if (read?.kind === 'refused') this.#refuseFile(place, say.refused({ name, reason: refusedWords(read.problem) }))
      else if (read) {
        const { frequenciesHz, levelsDb } = read
        await this.#setMicrophone(place, { name, frequenciesHz, levelsDb })
      }
    } catch (error) {
      this.#refuseFile(place, fileFailed({ name, reason: error instanceof Error ? error.message : String(error) }))
    }
  }
  dropMicrophone(place: PlaceName): void {
    this.#refuseFile(place, '')
    void this.#setMicrophone(place, null)
  }
  #setMicrophone(place: PlaceName, kept: KeptMicrophone | null): Promise<void> {
    return this.#change((before) => ({ ...before, microphones: { ...before.microphones, [place]: kept } }))
  }
  #refuseFile(place: PlaceName, words: string): void {
    this.fileRefusals = { ...this.fileRefusals, [place]: words }
  }

  stopTaking(): void {
    this.taken.stop()
    this.#job = undefined
  }
  refuse(step: PartName, words: string): void {
    this.refusals = { ...this.refusals, [step]: words }
  }

  #begin(job: Job): void {
    this.refuse(job.step, '')
    this.#job = job
  }

  async #takeIn(asking: Asking<true>, job: Job): Promise<true | undefined> {
    const words = await this.#wordsOf(asking, job)
    // A newer one is being taken in, or the reader has stopped this one.
    if (words === undefined || this.#job?.nr !== job.nr) return undefined
    this.refuse(job.step, words)
    this.#job = undefined
    return true
  }

  /** @returns  why it is not taken, '' if it is; undefined if it was ended */
  #wordsOf(asking: Asking<true>, job: Job): Promise<string | undefined> {
    if (job.step === 'sweep') return this.#takeSweep(asking, job)
    if (job.kind === 'practice') return this.#takePractice(asking, job)
    return job.kind === 'table' ? this.#takeTable(asking, job) : this.#takeRecording(asking, job)
  }

  async #takeSweep(asking: Asking<true>, job: SweepJob): Promise<string | undefined> {
    const rig = this.rigs[0]?.rig
    const practice = rig && { rig, hall: this.practiceHall, air: this.air, seed: practiceSeed }
    const taken = await takeSweep(asking, job, practice)
    if (!taken || typeof taken === 'string' || this.#job?.nr !== job.nr)
      return typeof taken === 'string' ? taken : undefined
    const { measured, truth } = taken
    await this.#change((before) => ({ ...before, sweep: withSwept(before.sweep, measured, truth) }))
    return ''
  }

  async #takePractice(asking: Asking<true>, job: StepJob & { kind: 'practice' }): Promise<string | undefined> {
    const { step, practice } = job
    // One rig for all three, whatever prediction is drawn: the recordings belong together.
    const rig = this.rigs[0]?.rig
    if (!rig) return undefined
    const made = await asking.ask('practiceFile', { name: practice, seed: practiceSeed, rig, air: this.air })
    if (!made) return undefined
    const file = new Blob([made.wav], { type: 'audio/wav' })
    const analysed = await analyseRecording(asking, file)
    if (!analysed || analysed.kind === 'refused') return analysed && refusedWords(analysed.problem)
    const { take } = analysed
    const source = (channel: number, levelsDb: number[] | undefined): LevelSource =>
      levelsDb ? { kind: 'entered', levelsDb } : { kind: 'take', take, channel }
    const name = say.practiceName({ practice: practiceKey(practice) })
    const both = withBoth(name, source(0, made.meterDb?.front), source(1, made.meterDb?.behind))
    const sound = await asking.ask('recordingSound', { file, layout: analysed.plan.layout, channels: [0, 1] })
    if (!sound || this.#job?.nr !== job.nr) return undefined
    this.#hold(step, 'both', sound)
    await this.#setStep(step, () => ({ ...both, practice }))
    return ''
  }

  async #takeTable(asking: Asking<true>, job: StepJob & { kind: 'recording' | 'table' }): Promise<string | undefined> {
    const { step, wanted, file, name } = job
    const table = await asking.ask('bandTableFile', { file })
    if (!table) return undefined
    if (table.kind === 'refused') return say.refused({ name, reason: refusedWords(table.problem) })
    const { front, behind } = table
    if (wanted === 'both' && !behind) return say.refused({ name, reason: say.oneColumn() })
    if (this.#job?.nr !== job.nr) return undefined
    this.#hold(step, wanted, undefined)
    const entered = (levelsDb: (number | null)[]): LevelSource => ({ kind: 'entered', levelsDb })
    if (wanted === 'both') await this.#setStep(step, () => withBoth(name, entered(front), entered(behind ?? [])))
    else await this.#setStep(step, (before) => withPart(before, wanted, name, entered(front)))
    return ''
  }

  async #takeRecording(
    asking: Asking<true>,
    job: StepJob & { kind: 'recording' | 'table' },
  ): Promise<string | undefined> {
    const { step, wanted, file, name } = job
    const analysed = await analyseRecording(asking, file, wanted === 'both' ? undefined : [0])
    if (!analysed) return undefined
    if (analysed.kind === 'refused') return say.refused({ name, reason: refusedWords(analysed.problem) })
    const { take, plan } = analysed
    if (wanted === 'both' && take.channels.length < 2) return say.refused({ name, reason: say.oneChannel() })
    const channels = take.channels.map((_, channel) => channel)
    const sound = await asking.ask('recordingSound', { file, layout: plan.layout, channels })
    if (!sound || this.#job?.nr !== job.nr) return undefined
    this.#hold(step, wanted, sound)
    const source = (channel: number): LevelSource => ({ kind: 'take', take, channel })
    if (wanted === 'both') await this.#setStep(step, () => withBoth(name, source(0), source(1)))
    else await this.#setStep(step, (before) => withPart(before, wanted, name, source(0)))
    return ''
  }

  #hold(step: StepName, wanted: Wanted, sound: RecordingSound | undefined): void {
    const of = (channel: number) => {
      const samples = sound?.channels[channel]
      return sound && samples ? { sampleRateHz: sound.sampleRateHz, samples } : undefined
    }
    const held: Record<PlaceName, ReturnType<typeof of>> = wanted === 'both'
      ? { front: of(0), behind: of(1) }
      : { front: this.sounds[step]?.front, behind: this.sounds[step]?.behind, [wanted]: of(0) }
    const { front, behind } = held
    this.sounds = { ...this.sounds, [step]: { ...(front && { front }), ...(behind && { behind }) } }
  }

  /** Asks about a recording that still goes on. */
  askRunning = async <N extends TaskName>(task: N, question: Question<N>): Promise<Answer<N> | undefined> =>
    this.engine?.ask(`running ${task}`, task, question)

  /** The verdict that the numbers of a link give, which are rounded. */
  async sentVerdict(sent: SentTest): Promise<Verdict | undefined> {
    return (await this.engine?.ask('sent', 'sentAnswer', { sent }))?.verdict
  }

  /** The pink noise, made when it is first wanted. */
  async noise(): Promise<Answer<'noiseFile'> | undefined> {
    this.#noise ??= this.engine?.ask('noise', 'noiseFile', {}).catch((error: unknown) => {
      this.#noise = undefined
      throw error
    })
    return this.#noise
  }
  #noise: Promise<Answer<'noiseFile'> | undefined> | undefined

  /** The sweeps to play, made when they are first wanted. */
  async sweepSound(): Promise<Answer<'sweepFile'> | undefined> {
    this.#sweepSound ??= this.engine?.ask('sweep', 'sweepFile', {}).catch((error: unknown) => {
      this.#sweepSound = undefined
      throw error
    })
    return this.#sweepSound
  }
  #sweepSound: Promise<Answer<'sweepFile'> | undefined> | undefined
}
