import { createFader } from './fader.ts'
import type { SoundClock } from './sound-clock.ts'
import type { Context } from './tone-nodes.ts'
import { Gain, monoBuffer, ToneBufferSource } from './tone-nodes.ts'

/** Length of the fade at either end of playing, s. */
const gateS = 0.06

/** A loop being played. */
export type LoopedSource = {
  /** Fades out; returns when silence is reached, s. */
  fadeOut(): number
  dispose(): void
}

/**
 * Starts a loop at its beginning, fading in. The whole buffer repeats, first sample after last.
 *
 * @param wiring  context and clock, the samples of the loop, and the node to play into
 */
export function startLoop(wiring: {
  context: Context
  clock: SoundClock
  samples: Float32Array
  output: Gain
}): LoopedSource {
  const { context, clock, samples, output } = wiring
  const source = new ToneBufferSource({ context, url: monoBuffer(context, samples), loop: true })
  const gate = new Gain({ context, gain: 0 })
  const fader = createFader({ param: gate.gain, clock, gain: 0, rampS: gateS })
  source.connect(gate)
  gate.connect(output)
  source.start(clock.nowS())
  fader.fadeTo(1)
  return {
    fadeOut: () => fader.fadeTo(0),
    dispose() {
      source.stop(clock.nowS())
      source.dispose()
      gate.dispose()
    },
  }
}
