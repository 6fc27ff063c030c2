import { type ClippedRun, mostClippedRuns } from './block-levels.ts'

/** From here up a run of equal samples counts as full scale: the highest values of 8 bits and of any more. */
export const fullScale = 127 / 128
/** So many equal samples are a run. */
export const fewestEqual = 3
/** A ceiling below full scale shows in so many runs at the highest value of the whole recording. */
const fewestBelow = 4

type Run = { from: number; count: number }

/**
 * Finds clipped runs of one channel, sample by sample: three or more equal samples at full scale (magnitude from 127/128), or four
 * such runs at the highest magnitude of the recording, which is how a signal looks that was clipped and turned down later.
 */
export class ClippedRuns {
  #frame = 0
  #previous = 0
  #equal = 1
  #highest = 0
  #atFullScale: Run[] = []
  #below: Run[] = []
  #sampleCount = 0

  /** @param samples  the next ones, full scale ±1 */
  push(samples: Float32Array): void {
    let previous = this.#previous
    let equal = this.#equal
    for (let n = 0; n < samples.length; n++) {
      const sample = samples[n] as number
      if (sample === previous) {
        equal += 1
        if (equal >= fewestEqual) this.#count(Math.abs(sample), this.#frame + n, equal)
        continue
      }
      previous = sample
      equal = 1
      const magnitude = Math.abs(sample)
      if (magnitude > this.#highest) {
        this.#highest = magnitude
        this.#below = []
      }
    }
    this.#previous = previous
    this.#equal = equal
    this.#frame += samples.length
  }

  #count(magnitude: number, frame: number, equal: number): void {
    const full = magnitude >= fullScale
    if (!full && (magnitude === 0 || magnitude < this.#highest)) return
    if (full) this.#sampleCount += equal === fewestEqual ? fewestEqual : 1
    const runs = full ? this.#atFullScale : this.#below
    if (equal === fewestEqual) {
      if (runs.length < mostClippedRuns) runs.push({ from: frame - fewestEqual + 1, count: fewestEqual })
    } else {
      const last = runs.at(-1)
      if (last && last.from + last.count === frame) last.count += 1
    }
  }

  /** What has been found, in order of time, and how many samples it takes in. */
  found(channel: number, sampleRateHz: number): { runs: ClippedRun[]; sampleCount: number } {
    const below = this.#highest < fullScale && this.#below.length >= fewestBelow ? this.#below : []
    const runs = [...this.#atFullScale, ...below].map(({ from, count }) => ({
      channel,
      timeS: from / sampleRateHz,
      sampleCount: count,
      ceiling: this.#highest,
    }))
    return { runs, sampleCount: this.#sampleCount + below.reduce((sum, { count }) => sum + count, 0) }
  }
}
