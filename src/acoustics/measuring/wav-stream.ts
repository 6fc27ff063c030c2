import { requireInRange } from '../numeric-range.ts'
import { recordingRateHz } from './recording-bands.ts'
import { RecordingError } from './recording-problem.ts'
import { wavFrames } from './wav-frames.ts'
import { type ByteRange, type WavLayout, wavLayout } from './wav-layout.ts'

/** Something that gives its bytes by the piece: a file on the device, a table in memory. */
export type ByteSource = {
  /** Bytes of the whole. */
  size: number
  /** Bytes from … to (excluded); fewer where the source ends. */
  slice: (from: number, to: number) => Promise<Uint8Array>
}

/** Most channels of a recording that is analysed. */
const mostChannels = 64

/**
 * Where the samples of a WAV recording lie.
 *
 * @param source  of which a few hundred bytes are read
 * @returns  the layout, of at least one frame
 * @throws RecordingError  as wavLayout; for a file without a sample, of more than 64 channels, or with a sample rate outside 8 to 192 kHz
 */
export async function openWav({ size, slice }: ByteSource): Promise<WavLayout> {
  const layout = await answered(wavLayout(size), slice)
  const { sampleRateHz, channelCount, frameCount } = layout
  if (sampleRateHz < recordingRateHz.min || sampleRateHz > recordingRateHz.max) {
    throw new RecordingError(
      { kind: 'sample-rate', sampleRateHz },
      `The WAV file has a sample rate of ${sampleRateHz} Hz; allowed is ${recordingRateHz.min} to ${recordingRateHz.max} Hz.`,
    )
  }
  if (channelCount > mostChannels) {
    throw new RecordingError(
      { kind: 'channel-count', channelCount },
      `The WAV file has ${channelCount} channels; allowed is 1 to ${mostChannels}.`,
    )
  }
  if (frameCount === 0) throw new RecordingError({ kind: 'no-samples' }, 'The WAV file has no samples in it.')
  return layout
}

async function answered(
  asking: Generator<ByteRange, WavLayout, Uint8Array>,
  slice: ByteSource['slice'],
): Promise<WavLayout> {
  let asked = asking.next()
  while (!asked.done) asked = asking.next(await slice(asked.value.from, asked.value.to))
  return asked.value
}

/** About so many bytes are read at a time. */
const pieceBytes = 2 ** 20

/**
 * The samples of a stretch of a WAV recording, piece by piece, so that no more than about a megabyte of it is held.
 *
 * @param source  the file
 * @param layout  as openWav gives it
 * @param of      fromFrame and toFrame (excluded), within the file; channels that are wanted, from 0, all unless given
 * @returns  one array a wanted channel, a piece at a time; ends early where the file has become shorter
 * @throws RangeError if a frame or a channel is outside the file
 * @throws RecordingError if a sample is no number
 */
export async function* wavPieces(
  { slice }: ByteSource,
  layout: WavLayout,
  of: { fromFrame?: number; toFrame?: number; channels?: readonly number[] } = {},
): AsyncGenerator<Float32Array[]> {
  const { dataFrom, frameCount, channelCount, bytesPerSample } = layout
  const { fromFrame = 0, toFrame = frameCount, channels } = of
  requireInRange('fromFrame', fromFrame, { integer: true, min: 0, max: frameCount })
  requireInRange('toFrame', toFrame, { integer: true, min: fromFrame, max: frameCount })
  for (const channel of channels ?? []) {
    requireInRange('channel', channel, { integer: true, min: 0, max: channelCount - 1 })
  }
  const bytesPerFrame = channelCount * bytesPerSample
  const framesAtOnce = Math.max(1, Math.floor(pieceBytes / bytesPerFrame))
  for (let frame = fromFrame; frame < toFrame; frame += framesAtOnce) {
    const end = Math.min(toFrame, frame + framesAtOnce)
    const bytes = await slice(dataFrom + frame * bytesPerFrame, dataFrom + end * bytesPerFrame)
    yield wavFrames(bytes, layout, frame, channels)
    if (bytes.length < (end - frame) * bytesPerFrame) return
  }
}
