import { RecordingError } from '../measuring/recording-problem.ts'
import { wavFrames } from '../measuring/wav-frames.ts'
import { wavLayout } from '../measuring/wav-layout.ts'

/** What a file holds: one array a channel, full scale ±1. */
export type WavRecording = { sampleRateHz: number; channels: Float32Array[] }

/**
 * All samples of a WAV file at once: PCM of 8, 16, 24 or 32 bits, IEEE float of 32 or 64 bits, plain, extensible or RF64; any number
 * of channels. Samples are as in wavFrames. A long file is better read by wavPieces.
 *
 * @param bytes  the whole file
 * @returns  sample rate, Hz, and a Float32Array for each channel, all of one length (0 for a file without a sample)
 * @throws RecordingError  in plain words, with what is allowed: for a file that is no WAV, is cut short, has no sound in it, or holds
 *                it in another way (compressed), or has a sample that is no number
 * Source:   as wavLayout.
 */
export function readWav(bytes: Uint8Array): WavRecording {
  const asking = wavLayout(bytes.length)
  let asked = asking.next()
  while (!asked.done) asked = asking.next(bytes.subarray(asked.value.from, asked.value.to))
  const layout = asked.value
  const { dataFrom, frameCount, channelCount, bytesPerSample, sampleRateHz } = layout
  if (layout.isCutShort) {
    throw new RecordingError(
      { kind: 'cut-short' },
      'The WAV file is cut short: it ends before its last sample. Copy it again.',
    )
  }
  const data = bytes.subarray(dataFrom, dataFrom + frameCount * channelCount * bytesPerSample)
  return { sampleRateHz, channels: wavFrames(data, layout) }
}
