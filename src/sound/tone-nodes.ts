// The only file that imports Tone.js. The classes come one by one: the package's index opens an audio context on being
// loaded, whose clock is a worker made from a Blob, which the site's Content Security Policy forbids.
import './silence-tone-log.ts'
import { BiquadFilter } from 'tone/build/esm/component/filter/BiquadFilter.js'
import { Convolver } from 'tone/build/esm/component/filter/Convolver.js'
import { Context } from 'tone/build/esm/core/context/Context.js'
import { Gain } from 'tone/build/esm/core/context/Gain.js'
import { setContext } from 'tone/build/esm/core/context/GlobalContext.js'
import { ToneAudioBuffer } from 'tone/build/esm/core/context/ToneAudioBuffer.js'
import { WaveShaper } from 'tone/build/esm/signal/WaveShaper.js'
import { ToneBufferSource } from 'tone/build/esm/source/buffer/ToneBufferSource.js'
import { ToneOscillatorNode } from 'tone/build/esm/source/oscillator/ToneOscillatorNode.js'
import { provideParamHold } from './param-hold.ts'
import { canHalt, offlineClock, type SoundClock } from './sound-clock.ts'

export type { Context, ToneAudioBuffer }
export { BiquadFilter, Convolver, Gain, ToneBufferSource, ToneOscillatorNode, WaveShaper }

/** How far ahead of the sound changes are scheduled while playing, s: above a usual output buffer. */
const liveLeadS = 0.03

/**
 * Wraps a browser's audio context for Tone.js and gives its clock. It also becomes Tone's global context: every node
 * is handed its context, but Tone asks for the global one in passing and would otherwise open one itself.
 */
export function openContext(raw: AudioContext | OfflineAudioContext): { context: Context; clock: SoundClock } {
  provideParamHold()
  if (raw instanceof OfflineAudioContext) {
    const context = new Context({ context: raw, clockSource: 'offline', lookAhead: 0 })
    setContext(context)
    return { context, clock: offlineClock(raw) }
  }
  const context = new Context({ context: raw, clockSource: 'timeout', lookAhead: liveLeadS })
  setContext(context)
  const clock: SoundClock = {
    leadS: liveLeadS,
    nowS: () => context.now(),
    callAt: (timeS, callback) => {
      context.setTimeout(callback, Math.max(0, timeS - context.now()))
    },
  }
  return { context, clock }
}

/**
 * Renders what a function connects to the destination, faster than time.
 *
 * @param spec   sample rate, Hz, and length, samples
 * @param build  makes and schedules nodes in the context that it is given; by the clock it may go on while it is rendered.
 *               Where the browser cannot halt a rendering there is no clock: all must be scheduled at once
 * @returns  one channel of samples
 */
export async function renderOffline(
  spec: { sampleRateHz: number; length: number },
  build: (context: Context, clock: SoundClock | undefined) => void,
): Promise<Float32Array> {
  const raw = new OfflineAudioContext(1, spec.length, spec.sampleRateHz)
  const { context, clock } = openContext(raw)
  build(context, canHalt(raw) ? clock : undefined)
  const rendered = await raw.startRendering()
  return rendered.getChannelData(0)
}

/** A buffer of one channel, at the context's sample rate unless given. */
export const monoBuffer = (context: Context, samples: Float32Array): ToneAudioBuffer =>
  bufferOf(context, samples, context.sampleRate)

/** A buffer of one channel at a sample rate of its own, Hz: the browser plays it at its right pitch. */
export function bufferOf(context: Context, samples: Float32Array, sampleRateHz: number): ToneAudioBuffer {
  const buffer = context.createBuffer(1, samples.length, sampleRateHz)
  buffer.copyToChannel(new Float32Array(samples), 0)
  return new ToneAudioBuffer(buffer)
}
