import { createFader, type Fader } from './fader.ts'
import { createPassingSounds, type PassingOptions, type PassingSound, type PassingSounds } from './passing-sounds.ts'
import { bufferOf, Gain, ToneBufferSource } from './tone-nodes.ts'

/** A recording of one channel. */
export type HeardRecording = { sampleRateHz: number; samples: Float32Array }

/** Plays one recording out of several that run side by side, each as a loop. After `dispose` every call does nothing. */
export type LoopPair = {
  readonly disposed: boolean
  /**
   * Begins one of them, or changes over to it where it is while another one plays. Rejects in the reader's words if the browser lets
   * nothing be heard.
   *
   * @param recordings  which there are; the same array as long as they stay the same
   * @param index       which of them
   */
  play(recordings: readonly HeardRecording[], index: number): Promise<void>
  stop(): void
  /** Highest sample that leaves, re digital full scale. */
  peak(): number
  dispose(): void
}

/** Length of every fade, s. */
const fadeS = 0.08
/** From below up to the level, s: a device that was left loud startles nobody. */
const riseS = 1.2

type Run = PassingSound & { recordings: readonly HeardRecording[]; show(index: number): void }

/**
 * Builds loops → fades → rise → ceiling at −1 dBFS → output. Silent until `play`.
 *
 * @throws Error if the browser has no Web Audio
 */
export function createLoopPair(options: PassingOptions = {}): LoopPair {
  const sounds = createPassingSounds(options)
  let run: Run | undefined
  return {
    get disposed() {
      return sounds.disposed
    },
    async play(recordings, index) {
      if (sounds.disposed) return
      if (run && run.recordings === recordings && sounds.lasts(run)) return run.show(index)
      sounds.endAll()
      run = startRun(sounds, recordings, index)
      sounds.add(run)
      await sounds.wake()
    },
    stop: () => sounds.stop(),
    peak: () => sounds.peak(),
    dispose: () => sounds.dispose(),
  }
}

function startRun({ context, clock, input }: PassingSounds, recordings: readonly HeardRecording[], first: number): Run {
  const rise = new Gain({ context, gain: 0 })
  rise.connect(input)
  const whole = createFader({ param: rise.gain, clock, gain: 0, rampS: riseS })
  const loops = recordings.map(({ sampleRateHz, samples }, index) => {
    const source = new ToneBufferSource({ context, url: bufferOf(context, samples, sampleRateHz), loop: true })
    const gate = new Gain({ context, gain: index === first ? 1 : 0 })
    const fader: Fader = createFader({ param: gate.gain, clock, gain: index === first ? 1 : 0, rampS: fadeS })
    source.connect(gate)
    gate.connect(rise)
    source.start(clock.nowS())
    return { source, gate, fader }
  })
  whole.fadeTo(1)
  return {
    recordings,
    show(index) {
      for (const [each, { fader }] of loops.entries()) fader.fadeTo(each === index ? 1 : 0)
    },
    fadeOut: () => Math.max(...loops.map(({ fader }) => fader.fadeTo(0))),
    giveBack() {
      for (const { source, gate } of loops) {
        source.stop(clock.nowS())
        source.dispose()
        gate.dispose()
      }
      rise.dispose()
    },
  }
}
