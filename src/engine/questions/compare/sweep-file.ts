import { sweepSignal, usualSweep, writeWav } from '../../../acoustics/index.ts'
import type { NoiseFile } from './noise-file.ts'

const sampleRateHz = 48000
/** A sine of this peak has the power of the pink noise, −20 dB re full scale squared: what is set by the one holds for the other. */
export const sweepPeak = 0.1 * Math.SQRT2

/** The sweeps of the test, to be played once, and the same as a file. */
export function sweepFile(_question: object): NoiseFile {
  const samples = sweepSignal(usualSweep, sampleRateHz, sweepPeak)
  return { sampleRateHz, samples, wav: writeWav({ sampleRateHz, channels: [samples] }) }
}
