import { amplitudeLevelDb, fullScale } from '../acoustics/index.ts'

/**
 * What a level is for a recording:
 *
 *   none     nothing comes in
 *   quiet    so weak that the input's own noise may drown it
 *   good
 *   loud     nearly too loud
 *   clipped  at full scale: too loud
 */
export type InputState = 'none' | 'quiet' | 'good' | 'loud' | 'clipped'

/** Highest magnitude of the last seconds, dB re full scale; null for nothing at all. */
export type InputLevel = { state: InputState; peakDb: number | null }

/** Peaks of so much time count, s. */
const lookBackS = 3
/** Limits of the highest peak, dB re full scale; common practice, no source. Pink noise peaks about 12 dB above its level. */
export const inputLimitsDb = { none: -100, quiet: -40, loud: -3 } as const
/** Two channels that are alike for so long are one, s. */
const alikeForS = 0.5

/** @param peak  highest magnitude, 0 or more, full scale 1 */
export function inputLevel(peak: number): InputLevel {
  if (!(peak > 0)) return { state: 'none', peakDb: null }
  const peakDb = amplitudeLevelDb(peak)
  if (peak >= fullScale) return { state: 'clipped', peakDb }
  if (peakDb > inputLimitsDb.loud) return { state: 'loud', peakDb }
  if (peakDb < inputLimitsDb.none) return { state: 'none', peakDb }
  return { state: peakDb < inputLimitsDb.quiet ? 'quiet' : 'good', peakDb }
}

/** Levels of an input that comes piece by piece. */
export class InputLevels {
  readonly #sampleRateHz: number
  /** The pieces of the last seconds: how long each is, and its highest magnitude in each channel. */
  #pieces: { frames: number; peaks: number[] }[] = []
  #frames = 0
  #alikeFrames = 0
  #differs = false

  constructor(sampleRateHz: number) {
    this.#sampleRateHz = sampleRateHz
  }

  push(channels: readonly Float32Array[]): void {
    const frames = channels[0]?.length ?? 0
    if (frames === 0) return
    const peaks = channels.map((samples) => {
      let peak = 0
      for (let n = 0; n < samples.length; n++) peak = Math.max(peak, Math.abs(samples[n] as number))
      return peak
    })
    this.#pieces.push({ frames, peaks })
    this.#frames += frames
    const longest = lookBackS * this.#sampleRateHz
    while (this.#pieces[0] && this.#frames - this.#pieces[0].frames >= longest) {
      this.#frames -= this.#pieces[0].frames
      this.#pieces.shift()
    }
    this.#compare(channels)
  }

  /** Of the last seconds, one for each channel. */
  levels(): InputLevel[] {
    const count = this.#pieces.at(-1)?.peaks.length ?? 0
    return Array.from({ length: count }, (_, channel) =>
      inputLevel(this.#pieces.reduce((most, { peaks }) => Math.max(most, peaks[channel] ?? 0), 0)),
    )
  }

  /** Whether two channels carry the very same samples: a device with one microphone that pretends to have two. */
  get isOneTwice(): boolean {
    return !this.#differs && this.#alikeFrames >= alikeForS * this.#sampleRateHz
  }

  #compare([first, second]: readonly Float32Array[]): void {
    if (this.#differs || !first || !second) return
    for (let n = 0; n < first.length; n++) {
      if (first[n] !== second[n]) {
        this.#differs = true
        return
      }
      if (first[n] !== 0) this.#alikeFrames += 1
    }
  }
}
