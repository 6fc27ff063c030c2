import { type WavLayout, wavPieces } from '../../../acoustics/index.ts'
import { byteSource } from './byte-source.ts'

/** Some of a recording to listen to: one array a channel. */
export type RecordingSound = { sampleRateHz: number; channels: Float32Array[] }

/** So much of a recording is kept in memory to be heard, s. */
export const heardS = 20

/**
 * The beginning of a recording, for the ear.
 *
 * @param question.channels  which of its channels, from 0
 * @returns  up to heardS of each
 * @throws RecordingError as a rejection if the file cannot be read any more, or has a sample that is no number
 */
export async function recordingSound(question: {
  file: Blob
  layout: WavLayout
  channels: number[]
}): Promise<RecordingSound> {
  const { file, layout, channels } = question
  const { sampleRateHz, frameCount } = layout
  const toFrame = Math.min(frameCount, Math.round(heardS * sampleRateHz))
  const sound = channels.map(() => new Float32Array(toFrame))
  let at = 0
  for await (const piece of wavPieces(byteSource(file), layout, { fromFrame: 0, toFrame, channels })) {
    for (const [index, samples] of piece.entries()) sound[index]?.set(samples, at)
    at += piece[0]?.length ?? 0
  }
  return { sampleRateHz, channels: sound }
}
