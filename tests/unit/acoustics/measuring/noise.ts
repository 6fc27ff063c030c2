import type { BlockLevels } from '../../../../src/acoustics/measuring/block-levels.ts'
import { LevelStream } from '../../../../src/acoustics/measuring/level-stream.ts'
import { inverseRealDft } from '../../../../src/acoustics/signals/dft.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

/** Two numbers of the standard normal distribution at a time (Box and Muller). */
export function gaussian(seed: number): () => number {
  const random = seededRandom(seed)
  let spare: number | undefined
  return () => {
    if (spare !== undefined) {
      const value = spare
      spare = undefined
      return value
    }
    const radius = Math.sqrt(-2 * Math.log(1 - random()))
    const angle = 2 * Math.PI * random()
    spare = radius * Math.sin(angle)
    return radius * Math.cos(angle)
  }
}

/**
 * True noise, not of fixed line powers: its spectrum has independent normal parts. Power density by frequency, a whole period.
 *
 * @param power  power of an octave's share, so that 1 is pink with a mean square of 1 a neper of frequency
 */
export function noise(
  { length, sampleRateHz, seed }: { length: number; sampleRateHz: number; seed: number },
  gainDb: (frequencyHz: number) => number = () => 0,
): Float32Array {
  const next = gaussian(seed)
  const re = new Float64Array(Math.floor(length / 2) + 1)
  const im = new Float64Array(re.length)
  for (let k = 1; k < re.length - 1; k++) {
    const frequencyHz = (k * sampleRateHz) / length
    const [real, imaginary] = [next(), next()]
    if (frequencyHz < 10) continue
    const amplitude = (0.05 * length * 10 ** (gainDb(frequencyHz) / 20)) / (2 * Math.sqrt(k))
    re[k] = amplitude * real
    im[k] = amplitude * imaginary
  }
  return Float32Array.from(inverseRealDft({ re, im }, length))
}

/** Levels of channels that are pushed in pieces of an odd length. */
export function analysed(channels: Float32Array[], sampleRateHz: number): BlockLevels {
  const stream = new LevelStream({ sampleRateHz, channelCount: channels.length })
  const length = channels[0]?.length ?? 0
  for (let from = 0; from < length; from += 10007)
    stream.push(channels.map((each) => each.subarray(from, from + 10007)))
  return stream.levels()
}
