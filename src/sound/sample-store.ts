import { type WavLayout, wavHeader } from '../acoustics/index.ts'
import { requireInRange } from '../acoustics/numeric-range.ts'

/** Longest recording that is held, s, and most samples of all its channels: ten minutes of two at 48 kHz, 230 MB. */
export const longestS = 600
export const mostSamples = 2 * longestS * 48000

const bytesPerSample = 4
/** So many frames are put away together: what a browser need not hold in memory it may then lay on the disk. */
const putAwayFrames = 2 ** 18

/**
 * A recording that grows, and is a WAV file of 32-bit floats at any time. The samples are kept as they come: what the input clipped stays
 * clipped, and is found.
 *
 * @param of.sampleRateHz  8000 to 192 000 Hz
 * @param of.inputs        which channels of what comes are kept, from 0, in the order of the file
 * @throws RangeError for values out of range
 */
export class SampleStore {
  readonly sampleRateHz: number
  readonly #inputs: readonly number[]
  readonly #mostFrames: number
  readonly #away: Blob[] = []
  #open: Uint8Array<ArrayBuffer>[] = []
  #openFrames = 0
  #frames = 0

  constructor(of: { sampleRateHz: number; inputs: readonly number[] }) {
    this.sampleRateHz = requireInRange('sampleRateHz', of.sampleRateHz, { min: 8000, max: 192000, unit: 'Hz' })
    requireInRange('inputs.length', of.inputs.length, { min: 1, max: 2 })
    this.#inputs = of.inputs
    this.#mostFrames = Math.floor(Math.min(longestS * of.sampleRateHz, mostSamples / of.inputs.length))
  }

  get channelCount(): number {
    return this.#inputs.length
  }
  get frameCount(): number {
    return this.#frames
  }
  get durationS(): number {
    return this.#frames / this.sampleRateHz
  }
  /** How long it can become, s. */
  get longestS(): number {
    return this.#mostFrames / this.sampleRateHz
  }
  get isFull(): boolean {
    return this.#frames >= this.#mostFrames
  }

  /** Takes the next samples, as far as there is room. A channel that is missing is silent. */
  push(channels: readonly Float32Array[]): void {
    const frames = Math.min(channels[0]?.length ?? 0, this.#mostFrames - this.#frames)
    if (frames <= 0) return
    const count = this.channelCount
    const bytes = new Uint8Array(frames * count * bytesPerSample)
    const view = new DataView(bytes.buffer)
    for (const [place, input] of this.#inputs.entries()) {
      const samples = channels[input]
      if (!samples) continue
      for (let n = 0; n < frames; n++) {
        view.setFloat32((n * count + place) * bytesPerSample, samples[n] as number, true)
      }
    }
    this.#open.push(bytes)
    this.#openFrames += frames
    this.#frames += frames
    if (this.#openFrames >= putAwayFrames) {
      this.#away.push(new Blob(this.#open))
      this.#open = []
      this.#openFrames = 0
    }
  }

  /** The recording as it now is: a WAV file, and where its samples lie. */
  wav(): { file: Blob; layout: WavLayout } {
    const { sampleRateHz, channelCount } = this
    const frameCount = this.#frames
    const header = wavHeader({ sampleRateHz, channelCount, frameCount }, 'float32')
    return {
      file: new Blob([header, ...this.#away, ...this.#open], { type: 'audio/wav' }),
      layout: {
        kind: 'float',
        channelCount,
        sampleRateHz,
        bytesPerSample,
        dataFrom: header.length,
        frameCount,
        isCutShort: false,
      },
    }
  }
}
