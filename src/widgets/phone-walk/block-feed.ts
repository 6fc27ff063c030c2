import { type BlockLevels, windowLength } from '../../acoustics/index.ts'
import type { AskEngine } from '../compare/running-take.ts'

/** No more sound than this waits to be looked at, s: a device that cannot keep up leaves out the oldest. */
const mostWaitingS = 20

/** Sound that comes in pieces, made into blocks of levels as soon as it fills one; nothing of it is kept. */
export class BlockFeed {
  readonly sampleRateHz: number
  readonly #ask: AskEngine
  readonly #length: number
  #pieces: Float32Array[] = []
  #frames = 0

  constructor(sampleRateHz: number, ask: AskEngine) {
    this.sampleRateHz = sampleRateHz
    this.#ask = ask
    this.#length = windowLength(sampleRateHz)
  }

  push(samples: Float32Array): void {
    this.#pieces.push(samples)
    this.#frames += samples.length
    const most = this.#length + mostWaitingS * this.sampleRateHz
    while (this.#frames > most) this.#frames -= this.#pieces.shift()?.length ?? 0
  }

  /** Forgets what has come: the next block begins now. */
  reset(): void {
    this.#pieces = []
    this.#frames = 0
  }

  /**
   * The blocks that what is there fills; the half of the last one that the next one shares stays. To be called one at a time.
   *
   * @returns  undefined while there is no whole block, or nobody to ask
   * @throws   as a rejection: whatever the engine throws
   */
  async next(): Promise<BlockLevels | undefined> {
    const hop = this.#length / 2
    const blocks = Math.floor(this.#frames / hop) - 1
    if (blocks < 1) return undefined
    const all = new Float32Array(this.#frames)
    let at = 0
    for (const piece of this.#pieces) {
      all.set(piece, at)
      at += piece.length
    }
    const rest = all.slice(blocks * hop)
    this.#pieces = [rest]
    this.#frames = rest.length
    return this.#ask('phoneBlocks', { sampleRateHz: this.sampleRateHz, samples: all.slice(0, (blocks + 1) * hop) })
  }
}
