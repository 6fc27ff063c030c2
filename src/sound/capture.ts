import { withTimeLimit } from '../engine/workers/time-limit.ts'
// A module of its own, made like a worker's: the sound's thread takes no part of the page.
import workletAddress from './capture.worklet.ts?worker&url'
import { MicrophoneError, type OpenMicrophone } from './microphone.ts'
import * as say from './sound.messages.ts'
import { soundLimitsS } from './sound-limits.ts'

/** A piece of what the input brings: one array a channel, full scale ±1, and when its last sample came, ms of the device's clock. */
export type CapturedPiece = { channels: Float32Array[]; timeMs: number }

export type Capture = {
  sampleRateHz: number
  /** Lets the input go. */
  end(): void
}

/** What happens to an input: a piece of sound, the input is gone, or the device holds its sound back. */
export type CaptureEvents = {
  onPiece(piece: CapturedPiece): void
  onGone(): void
  onHeld(): void
}

/**
 * Hands on what an open input brings, piece by piece, one or two channels, until it is ended. Nothing is played, and whatever else plays
 * goes on: the input has a sound context of its own, at its own sample rate where the browser tells it.
 *
 * @throws MicrophoneError  as a rejection; the input has then been let go
 */
export async function startCapture(microphone: OpenMicrophone, events: CaptureEvents): Promise<Capture> {
  const { stream } = microphone
  let context: AudioContext | undefined
  let ended = false
  const end = () => {
    ended = true
    for (const track of stream.getTracks()) {
      track.onended = null
      track.stop()
    }
    void context?.close().catch(() => {})
  }
  try {
    context = contextOf(microphone)
    const { sampleRate } = context
    try {
      await withTimeLimit(context.audioWorklet.addModule(workletAddress), soundLimitsS.code, say.starting())
    } catch {
      throw new MicrophoneError('code')
    }
    const node = new AudioWorkletNode(context, 'capture', {
      channelCount: 2,
      channelCountMode: 'clamped-max',
      channelInterpretation: 'discrete',
    })
    node.port.onmessage = ({ data }: MessageEvent<CapturedPiece>) => {
      if (!ended) events.onPiece(data)
    }
    context.createMediaStreamSource(stream).connect(node)
    // A browser only runs what leads to the output; what arrives there is silence.
    node.connect(context.destination)
    await withTimeLimit(context.resume(), soundLimitsS.waking, say.starting())
    context.onstatechange = () => {
      if (!ended && context?.state !== 'running') events.onHeld()
    }
    for (const track of stream.getAudioTracks()) {
      if (track.readyState === 'ended') throw new MicrophoneError('gone')
      track.onended = () => {
        if (!ended) events.onGone()
      }
    }
    return {
      sampleRateHz: sampleRate,
      end: () => {
        node.port.postMessage('end')
        end()
      },
    }
  } catch (error) {
    end()
    if (error instanceof MicrophoneError) throw error
    throw new MicrophoneError('failed', error instanceof Error ? error.message : String(error))
  }
}

/** A context at the input's own rate, so that nothing is resampled; at the output's where that is not to be had. */
function contextOf({ sampleRateHz }: OpenMicrophone): AudioContext {
  // Long buffers: a gap would be worse than a wait.
  const latencyHint = 'playback'
  if (sampleRateHz !== undefined) {
    try {
      return new AudioContext({ latencyHint, sampleRate: sampleRateHz })
    } catch {
      // The output's rate then.
    }
  }
  return new AudioContext({ latencyHint })
}
