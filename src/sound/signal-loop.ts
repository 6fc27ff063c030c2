import { pinkNoise } from '../acoustics/signals/pink-noise.ts'
import { speechLike } from '../acoustics/signals/speech-like.ts'
import type { AuditionSignal } from './audition-types.ts'
import { renderMusicLoop } from './music-loop.ts'

/** Length of the noise loop, s: long enough that its repeat is not noticed, short enough to make in a moment. */
export const noiseLoopS = 8

/** Seed of the noise loop; any would do, a fixed one makes every rendering repeatable. */
export const noiseLoopSeed = 20

/**
 * One period of a signal, root mean square 0.1, which loops without a seam.
 *
 * @param signal        which one
 * @param sampleRateHz  sample rate to make it at
 * @returns  samples re digital full scale
 */
export async function signalLoop(signal: AuditionSignal, sampleRateHz: number): Promise<Float32Array> {
  switch (signal) {
    case 'pink-noise':
      return pinkNoise({ sampleRateHz, durationS: noiseLoopS, seed: noiseLoopSeed })
    case 'music':
      return renderMusicLoop(sampleRateHz)
    case 'speech':
      return speechLike({ sampleRateHz })
  }
}
