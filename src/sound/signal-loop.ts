import { pinkNoise } from '../acoustics/signals/pink-noise.ts'
import { speechLike } from '../acoustics/signals/speech-like.ts'
import { withTimeLimit } from '../engine/workers/time-limit.ts'
import type { AuditionSignal } from './audition-types.ts'
import { gainToEqualSones } from './equal-sones.ts'
import { renderMusicLoop } from './music-loop.ts'
import * as say from './sound.messages.ts'
import { soundLimitsS } from './sound-limits.ts'

/** Length of the noise loop, s: long enough that its repeat is not noticed, short enough to make in a moment. */
export const noiseLoopS = 8

/** Seed of the noise loop; any would do, a fixed one makes every rendering repeatable. */
export const noiseLoopSeed = 20

/** Root mean square of the noise loop, re full scale: what `pinkNoise` makes. */
export const noiseRms = 0.1

/** Length of the noise that the other loops are set by, s: enough for even third octaves from 25 Hz, and soon made. */
const referenceS = 2

/**
 * One period of a signal, which loops without a seam. Noise has a root mean square of 0.1; the others come out as loud as it,
 * in sones: of equal root mean square, sounds that are mostly bass are quieter to the ear.
 *
 * @param signal        which one
 * @param sampleRateHz  sample rate to make it at
 * @returns  samples re digital full scale
 */
export async function signalLoop(signal: AuditionSignal, sampleRateHz: number): Promise<Float32Array> {
  switch (signal) {
    case 'pink-noise':
      return noise(sampleRateHz, noiseLoopS)
    case 'music':
      return asLoudAsNoise(await renderMusicLoop(sampleRateHz), sampleRateHz)
    case 'speech':
      return asLoudAsNoise(speechLike({ sampleRateHz }), sampleRateHz)
  }
}

const noise = (sampleRateHz: number, durationS: number): Float32Array =>
  pinkNoise({ sampleRateHz, durationS, seed: noiseLoopSeed })

/** A loop raised or lowered until it is as loud as the noise, in sones. */
export function asLoudAsNoise(loop: Float32Array, sampleRateHz: number): Float32Array {
  const gain = gainToEqualSones(loop, noise(sampleRateHz, referenceS), sampleRateHz)
  return loop.map((sample) => sample * gain)
}

/**
 * Remembers the loops that have been made; one that failed is made again when it is next asked for.
 *
 * @param sampleRateHz  of all loops
 * @param make          makes one; `signalLoop` unless given
 * @returns  gives a loop; rejects with what `make` rejects with, or with TimeLimitError
 */
export function createLoopStore(
  sampleRateHz: number,
  make: typeof signalLoop = signalLoop,
): (signal: AuditionSignal) => Promise<Float32Array> {
  const loops = new Map<AuditionSignal, Promise<Float32Array>>()
  return (signal) => {
    const known = loops.get(signal)
    if (known) return known
    const made = withTimeLimit(
      make(signal, sampleRateHz).catch((error: unknown) => {
        const reason = error instanceof Error ? error.message : String(error)
        throw new Error(say.signalNotMade({ signal, reason }))
      }),
      soundLimitsS.loop,
      say.makingSignal({ signal }),
    )
    loops.set(signal, made)
    made.catch(() => loops.delete(signal))
    return made
  }
}
