import { RecordingError } from './recording-problem.ts'
import type { WavLayout } from './wav-layout.ts'

/**
 * The samples in a stretch of a WAV file's data, one array a channel.
 *
 * An integer sample is divided by 2^(bits − 1), so that full scale is −1 … just below 1; 8 bits are stored from 0 to 255 around 128.
 * A float is handed on as it is, one of 64 bits rounded to 32.
 *
 * @param bytes       whole frames, one behind the other; what is left over at the end is passed over
 * @param layout      how they are stored
 * @param firstFrame  number of the first frame in the whole file, for the message
 * @param channels    which channels are wanted, from 0; all unless given
 * @throws RecordingError  if a wanted sample is no finite number
 */
export function wavFrames(
  bytes: Uint8Array,
  layout: Pick<WavLayout, 'kind' | 'channelCount' | 'bytesPerSample' | 'sampleRateHz'>,
  firstFrame = 0,
  channels: readonly number[] = Array.from({ length: layout.channelCount }, (_, channel) => channel),
): Float32Array[] {
  const { kind, channelCount, bytesPerSample, sampleRateHz } = layout
  const bytesPerFrame = channelCount * bytesPerSample
  const frames = Math.floor(bytes.length / bytesPerFrame)
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  return channels.map((channel) => {
    const samples = new Float32Array(frames)
    fill(samples, view, channel * bytesPerSample, bytesPerFrame, kind, bytesPerSample)
    if (kind === 'float') {
      const broken = samples.findIndex((sample) => !Number.isFinite(sample))
      if (broken >= 0) {
        const timeS = (firstFrame + broken) / sampleRateHz
        throw new RecordingError(
          { kind: 'no-number', channel, timeS },
          `Sample ${firstFrame + broken} of channel ${channel + 1} of the WAV file is ${samples[broken]}; allowed is any number.`,
        )
      }
    }
    return samples
  })
}

/** One loop a way of storing, because ten minutes are tens of millions of samples. */
function fill(
  samples: Float32Array,
  view: DataView,
  from: number,
  step: number,
  kind: WavLayout['kind'],
  bytesPerSample: number,
): void {
  let at = from
  if (kind === 'float' && bytesPerSample === 4) {
    for (let i = 0; i < samples.length; i++, at += step) samples[i] = view.getFloat32(at, true)
  } else if (kind === 'float') {
    for (let i = 0; i < samples.length; i++, at += step) samples[i] = view.getFloat64(at, true)
  } else if (bytesPerSample === 1) {
    for (let i = 0; i < samples.length; i++, at += step) samples[i] = (view.getUint8(at) - 128) / 2 ** 7
  } else if (bytesPerSample === 2) {
    for (let i = 0; i < samples.length; i++, at += step) samples[i] = view.getInt16(at, true) / 2 ** 15
  } else if (bytesPerSample === 3) {
    for (let i = 0; i < samples.length; i++, at += step) {
      samples[i] = (view.getUint16(at, true) + 2 ** 16 * view.getInt8(at + 2)) / 2 ** 23
    }
  } else {
    for (let i = 0; i < samples.length; i++, at += step) samples[i] = view.getInt32(at, true) / 2 ** 31
  }
}
