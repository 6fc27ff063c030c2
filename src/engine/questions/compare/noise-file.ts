import { pinkNoise, writeWav } from '../../../acoustics/index.ts'

/** Pink noise to play: its samples, which repeat without a seam, and the same as a file. */
export type NoiseFile = { sampleRateHz: number; samples: Float32Array; wav: Uint8Array<ArrayBuffer> }

/** A whole round of it, s: long enough that a band of 25 Hz is steady. */
const durationS = 30
const sampleRateHz = 48000

/** The pink noise of the test. Its level is −20 dB re full scale squared, its peaks about 14 dB above that. */
export function noiseFile(_question: object): NoiseFile {
  const samples = pinkNoise({ sampleRateHz, durationS, seed: 1 })
  return { sampleRateHz, samples, wav: writeWav({ sampleRateHz, channels: [samples] }) }
}
