import { createFader } from './fader.ts'
import { gainFromDb } from './gain.ts'
import { ladderFadeS, ladderPeakDb, ladderToneS } from './ladder-tones.ts'
import { createPassingSounds, type PassingOptions, type PassingSound } from './passing-sounds.ts'
import { Gain, ToneOscillatorNode } from './tone-nodes.ts'

/** Test tones, one at a time. After `dispose` every call does nothing. */
export type ToneLadder = {
  /** Whether it is gone for good, by `dispose` or because the browser has closed its context. */
  readonly disposed: boolean
  /**
   * Fades a tone in, and out again after `ladderToneS`; one that still sounds fades out. Resolves when it is heard, or when it
   * has been stopped before. Rejects in the reader's words if the browser lets nothing be heard, and with RangeError outside
   * 40 … 1000 Hz.
   */
  play(frequencyHz: number): Promise<void>
  /** Fades out. */
  stop(): void
  /** Highest sample that leaves, re digital full scale. */
  peak(): number
  dispose(): void
}

/**
 * Builds what the test tones are heard through: oscillator → fade → ceiling at −1 dBFS → output. Silent until `play`.
 *
 * @throws Error if the browser has no Web Audio
 */
export function createToneLadder(options: PassingOptions = {}): ToneLadder {
  const sounds = createPassingSounds(options)
  const { context, clock } = sounds
  return {
    get disposed() {
      return sounds.disposed
    },
    async play(frequencyHz) {
      if (sounds.disposed) return
      const peak = gainFromDb(ladderPeakDb(frequencyHz))
      sounds.endAll()
      const oscillator = new ToneOscillatorNode({ context, type: 'sine', frequency: frequencyHz })
      const gain = new Gain({ context, gain: 0 })
      oscillator.connect(gain)
      gain.connect(sounds.input)
      const fader = createFader({ param: gain.gain, clock, gain: 0, rampS: ladderFadeS })
      const tone: PassingSound = {
        fadeOut: () => fader.fadeTo(0),
        giveBack() {
          oscillator.dispose()
          gain.dispose()
        },
      }
      sounds.add(tone)
      const startS = clock.nowS()
      oscillator.start(startS)
      fader.fadeTo(peak)
      clock.callAt(startS + ladderToneS - ladderFadeS, () => sounds.end(tone))
      await sounds.wake()
    },
    stop: () => sounds.stop(),
    peak: () => sounds.peak(),
    dispose: () => sounds.dispose(),
  }
}
