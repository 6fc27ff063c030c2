import type { Rig } from '../../acoustics/index.ts'
import type { FaultAnswer, FaultQuestion } from '../../engine/questions/compare/fault-terms.ts'
import { type FoolingTake, foolingTakes, practiceSeed } from '../../engine/questions/compare/practice-terms.ts'
import { usualAir } from '../../engine/scene/air.ts'
import type { HeardRecording } from '../../sound/loop-pair.ts'
import { matchedRecordings } from '../compare/matched-pair.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { type FindFaultState, findFaultLink } from './find-fault-link.ts'

/** What the reader takes for the mistake, and whether it has been held against the truth. */
export type Choice = { cause: FoolingTake | 'none'; isChecked: boolean }

const noChoice: Choice = { cause: 'none', isChecked: false }

/** Six recordings with one mistake each: the one that is looked at, and what the reader makes of them. */
export class FindFault extends LiveFigure<FindFaultState> {
  readonly answer: Asked<FaultQuestion, FaultAnswer>
  /** By recording; kept as long as the page is open. */
  choices: Partial<Record<FoolingTake, Choice>> = $state.raw({})
  readonly #rig: Rig

  protected override get atHand() {
    return ['take'] as const
  }

  /**
   * @param rig    whose practice set it is
   * @param built  the answers to all recordings in the usual air, made when the page was built
   */
  constructor(base: FindFaultState, rig: Rig, built: FaultAnswer[]) {
    super(findFaultLink, base)
    this.#rig = $state.snapshot(rig) as Rig
    const known = $state.snapshot(built) as FaultAnswer[]
    const ofTake = (take: FoolingTake) => known.find(({ name }) => name === take)
    const first = ofTake(base.take)
    this.answer = this.works<FaultQuestion, FaultAnswer>(
      () => ({ name: this.state.take, rig: this.#rig }),
      async (asking, question) => {
        const isUsual = JSON.stringify(question.air) === JSON.stringify(usualAir)
        return (isUsual ? ofTake(question.name) : undefined) ?? asking.ask('faultAnswer', question)
      },
      { what: 'answer', keep: foolingTakes.length, ...(first && { first }) },
    )
  }

  /** What the reader made of a recording. */
  choiceOf(take: FoolingTake): Choice {
    return this.choices[take] ?? noChoice
  }
  /** Takes a cause for the recording that is looked at; one that has been found stays found. */
  choose(cause: FoolingTake | 'none'): void {
    const { take } = this.state
    if (!this.isFound(take)) this.choices = { ...this.choices, [take]: { cause, isChecked: false } }
  }
  /** Holds the choice against the truth. */
  check(): void {
    const { take } = this.state
    const { cause } = this.choiceOf(take)
    if (cause !== 'none') this.choices = { ...this.choices, [take]: { cause, isChecked: true } }
  }
  isFound(take: FoolingTake): boolean {
    const { cause, isChecked } = this.choiceOf(take)
    return isChecked && cause === take
  }
  found = $derived(foolingTakes.filter((take) => this.isFound(take)))
  /** The next recording, after the one that is looked at, whose mistake has not been found. */
  next = $derived.by(() => {
    const at = foolingTakes.indexOf(this.state.take)
    const round = [...foolingTakes.slice(at + 1), ...foolingTakes.slice(0, at)]
    return round.find((take) => !this.isFound(take))
  })

  #sound: { key: string; recordings: Promise<HeardRecording[] | undefined> } | undefined

  /** Both recordings as loud as each other; undefined when the reader has gone on meanwhile. */
  recordings(): Promise<HeardRecording[] | undefined> {
    const key = JSON.stringify([this.state.take, this.air])
    if (this.#sound?.key !== key) this.#sound = { key, recordings: this.#makeSound() }
    const { recordings } = this.#sound
    // What failed, or was overtaken, is made anew at the next press.
    const forget = () => {
      if (this.#sound?.recordings === recordings) this.#sound = undefined
    }
    recordings.then((made) => made ?? forget(), forget)
    return recordings
  }

  async #makeSound(): Promise<HeardRecording[] | undefined> {
    const { engine, answer } = this
    const [name, air] = [this.state.take, this.air]
    const made = await engine?.ask('fault file', 'practiceFile', { name, seed: practiceSeed, rig: this.#rig, air })
    if (!engine || !made) return undefined
    const file = new Blob([made.wav], { type: 'audio/wav' })
    const plan = await engine.ask('fault plan', 'recordingPlan', { file })
    if (plan?.kind !== 'recording') return undefined
    const sound = await engine.ask('fault sound', 'recordingSound', { file, layout: plan.layout, channels: [0, 1] })
    if (!sound || answer.question.name !== name) return undefined
    const { front, behind } = answer.value.aWeightedDb
    const { sampleRateHz } = sound
    return matchedRecordings(
      [front, behind].map((aWeightedDb, channel) => ({
        sampleRateHz,
        samples: sound.channels[channel] ?? new Float32Array(),
        aWeightedDb,
      })),
    )
  }
}
