import { type FileLoop, fileLoop, largestFileBytes, meanOfChannels, shortestFileS } from './file-loop.ts'
import { asLoudAsNoise, noiseRms } from './signal-loop.ts'
import * as say from './sound.messages.ts'

/**
 * A file of the reader's own as a loop, as loud as our own loops. It is read here and goes nowhere.
 *
 * @param file          any sound that the browser can decode; of several channels the mean is taken
 * @param sampleRateHz  of the loop, at least 28.3 kHz (see `gainToEqualSones`)
 * @throws  as a rejection: Error in the reader's words if it is too large, too short, silent or cannot be decoded
 */
export async function ownFileLoop(file: Blob, sampleRateHz: number): Promise<FileLoop> {
  if (file.size > largestFileBytes)
    throw new Error(say.fileTooLarge({ most: largestFileBytes / 1024 ** 2, size: Math.ceil(file.size / 1024 ** 2) }))
  const decoded = await decode(file, sampleRateHz)
  if (decoded.duration < shortestFileS) throw new Error(say.fileTooShort())
  const channels = Array.from({ length: decoded.numberOfChannels }, (_, index) => decoded.getChannelData(index))
  const loop = fileLoop(meanOfChannels(channels), sampleRateHz)
  return { ...loop, samples: evenedOut(loop.samples, sampleRateHz) }
}

async function decode(file: Blob, sampleRateHz: number): Promise<AudioBuffer> {
  try {
    return await new OfflineAudioContext(1, 1, sampleRateHz).decodeAudioData(await file.arrayBuffer())
  } catch {
    throw new Error(say.fileNotDecoded())
  }
}

/** Weaker than this all along, re full scale, a file is taken for silence: the last bit of 16. */
const silentRms = 2 ** -16

/**
 * As strong as our noise first, because the search for equal loudness covers some decibels only; what needs more than those,
 * nearly nothing but the lowest bass, stays as strong as the noise.
 */
function evenedOut(loop: Float32Array, sampleRateHz: number): Float32Array {
  const rms = Math.sqrt(loop.reduce((sum, sample) => sum + sample * sample, 0) / loop.length)
  if (rms < silentRms) throw new Error(say.fileSilent())
  const strong = loop.map((sample) => sample * (noiseRms / rms))
  try {
    return asLoudAsNoise(strong, sampleRateHz)
  } catch (error) {
    if (error instanceof RangeError) return strong
    throw error
  }
}
