import { type BlockLevels, joinedBlocks, windowLength } from '../../acoustics/index.ts'
import type { Take } from '../../engine/questions/compare/compare-terms.ts'
import type { Answer, Question, TaskName } from '../../engine/workers/tasks.ts'
import type { SampleStore } from '../../sound/sample-store.ts'

/** Asks the engine; undefined when there is none, or a newer question took this one's place. */
export type AskEngine = <N extends TaskName>(task: N, question: Question<N>) => Promise<Answer<N> | undefined>

/** So much new sound is waited for, s, or this share of what there is: a long recording is not judged ever more often. */
const leastNewS = 4
const newShare = 0.1
/** With fewer blocks there is no average with an error. */
const fewestBlocks = 5

/** What a recording that still goes on is worth so far. Only what is new is transformed, then all blocks are averaged anew. */
export class RunningTake {
  readonly #store: SampleStore
  readonly #ask: AskEngine
  readonly #parts: BlockLevels[] = []
  #blocks = 0

  constructor(store: SampleStore, ask: AskEngine) {
    this.#store = store
    this.#ask = ask
  }

  /**
   * To be called again and again, one at a time.
   *
   * @returns  the take as far as it has come; undefined while too little is new
   * @throws   as a rejection: whatever the engine throws, or Error if the samples cannot be read
   */
  async next(): Promise<Take | undefined> {
    const { sampleRateHz, channelCount, frameCount } = this.#store
    const hop = windowLength(sampleRateHz) / 2
    const blocks = Math.floor(frameCount / hop) - 1 - this.#blocks
    const newS = (blocks * hop) / sampleRateHz
    if (blocks < fewestBlocks && this.#blocks === 0) return undefined
    if (newS < Math.max(leastNewS, newShare * this.#store.durationS) && this.#blocks > 0) return undefined
    const stretch = { fromFrame: this.#blocks * hop, toFrame: (this.#blocks + blocks + 1) * hop }
    const channels = Array.from({ length: channelCount }, (_, channel) => channel)
    const part = await this.#ask('recordingPart', { ...this.#store.wav(), channels, stretch })
    if (!part) return undefined
    if (part.kind === 'refused') throw new Error(part.problem.kind)
    const { kind: _, ...levels } = part
    this.#parts.push(levels)
    this.#blocks += blocks
    return this.#ask('takeSummary', { levels: joinedBlocks(this.#parts) })
  }
}
