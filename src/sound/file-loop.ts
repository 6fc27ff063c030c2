import { requireInRange } from '../acoustics/numeric-range.ts'

/** Longest loop, and shortest file that makes one, s. */
export const longestLoopS = 60
export const shortestFileS = 1

/** Largest file that is read, bytes: some minutes without compression. Decoded, a compressed one can take twenty times as much. */
export const largestFileBytes = 40 * 1024 * 1024

/** Length of the fade from the end of a loop into its beginning, s; of a short file a quarter. */
const seamS = 0.5

/** A loop's length is a whole number of these, so that its spectrum comes quickly. */
const blockSamples = 4096

/** A file as a loop: one period, where it was taken from, and how long the file is, s. */
export type FileLoop = { samples: Float32Array; fromS: number; fileS: number }

/**
 * One period of a recording, which loops without a click: what follows its end fades out over its beginning, at equal power,
 * so that the sample after the last one is the one that followed it in the recording. Of a long one the stretch with the most
 * energy is taken, found in steps of a second.
 *
 * @param recording     one channel, finite
 * @param sampleRateHz  above 0
 * @returns  at most 60 s
 * @throws   RangeError for less than 1 s
 */
export function fileLoop(recording: Float32Array, sampleRateHz: number): FileLoop {
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, unit: 'Hz' })
  const fileS = recording.length / sampleRateHz
  requireInRange('fileS', fileS, { min: shortestFileS, unit: 's' })
  const seam = Math.floor(Math.min(seamS * sampleRateHz, recording.length / 4))
  const room = Math.min(recording.length - seam, Math.floor(longestLoopS * sampleRateHz))
  const length = Math.floor(room / blockSamples) * blockSamples || room
  const from = loudestStart(recording, length + seam, Math.floor(sampleRateHz))
  const samples = recording.slice(from, from + length)
  for (let index = 0; index < seam; index++) {
    const angleRad = ((index / seam) * Math.PI) / 2
    const leaving = recording[from + length + index] ?? 0
    samples[index] = (samples[index] ?? 0) * Math.sin(angleRad) + leaving * Math.cos(angleRad)
  }
  return { samples, fromS: from / sampleRateHz, fileS }
}

/** Where the stretch of a length begins that has the most energy. */
function loudestStart(recording: Float32Array, length: number, step: number): number {
  const energyOf = (from: number, to: number): number =>
    recording.subarray(from, to).reduce((sum, sample) => sum + sample * sample, 0)
  let energy = energyOf(0, length)
  let best = { from: 0, energy }
  for (let from = step; from + length <= recording.length; from += step) {
    energy += energyOf(from - step + length, from + length) - energyOf(from - step, from)
    // Clearly more: rounding must not move the start of an even sound.
    if (energy > best.energy * 1.000001) best = { from, energy }
  }
  return best.from
}

/** The mean of all channels of the same length. */
export function meanOfChannels(channels: readonly Float32Array[]): Float32Array {
  requireInRange('channels.length', channels.length, { min: 1 })
  const [first = new Float32Array(0), ...others] = channels
  return first.map(
    (sample, index) => (sample + others.reduce((sum, other) => sum + (other[index] ?? 0), 0)) / channels.length,
  )
}
