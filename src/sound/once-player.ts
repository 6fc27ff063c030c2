import { createFader, type Fader } from './fader.ts'
import type { HeardRecording } from './loop-pair.ts'
import { createPassingSounds, type PassingOptions, type PassingSound, type PassingSounds } from './passing-sounds.ts'
import { bufferOf, Gain, ToneBufferSource } from './tone-nodes.ts'

/** Plays one sound from its beginning to its end, once. After `dispose` every call does nothing. */
export type OncePlayer = {
  readonly disposed: boolean
  /**
   * Begins; what still plays fades out. Rejects in the reader's words if the browser lets nothing be heard.
   *
   * @param gain  of the samples, 0 to 1
   */
  play(sound: HeardRecording, gain: number): Promise<void>
  /** Turns what plays up or down. */
  turn(gain: number): void
  stop(): void
  /** Highest sample that leaves, re digital full scale. */
  peak(): number
  dispose(): void
}

/** Length of every fade, s. */
const fadeS = 0.08

type Run = PassingSound & { fader: Fader }

/**
 * Builds source → volume → ceiling at −1 dBFS → output. What is played rises by itself: a rise of the player's own would not be the same in two
 * sweeps that are to be equal.
 *
 * @param options.onSilent  called when it has come to its end, or was stopped
 * @throws Error if the browser has no Web Audio
 */
export function createOncePlayer(options: PassingOptions = {}): OncePlayer {
  const sounds = createPassingSounds(options)
  let run: Run | undefined
  return {
    get disposed() {
      return sounds.disposed
    },
    async play(sound, gain) {
      if (sounds.disposed) return
      sounds.endAll()
      const begun = begin(sounds, sound, gain)
      run = begun
      sounds.add(begun)
      const endS = sounds.clock.nowS() + sound.samples.length / sound.sampleRateHz
      sounds.clock.callAt(endS, () => sounds.end(begun, sounds.clock.nowS()))
      await sounds.wake()
    },
    turn(gain) {
      if (run && sounds.lasts(run)) run.fader.fadeTo(gain)
    },
    stop: () => sounds.stop(),
    peak: () => sounds.peak(),
    dispose: () => sounds.dispose(),
  }
}

function begin({ context, clock, input }: PassingSounds, sound: HeardRecording, gain: number): Run {
  const volume = new Gain({ context, gain })
  const source = new ToneBufferSource({ context, url: bufferOf(context, sound.samples, sound.sampleRateHz) })
  const fader = createFader({ param: volume.gain, clock, gain, rampS: fadeS })
  source.connect(volume)
  volume.connect(input)
  source.start(clock.nowS())
  return {
    fader,
    fadeOut: () => fader.fadeTo(0),
    giveBack() {
      source.stop(clock.nowS())
      source.dispose()
      volume.dispose()
    },
  }
}
