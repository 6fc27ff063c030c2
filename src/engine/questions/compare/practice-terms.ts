import type { MicrophoneOffsets } from '../../../acoustics/index.ts'

// The terms that pages share with the practice set, without fetching what makes it.

/** Ways to fool oneself, each in a recording of its own. */
export const foolingTakes = [
  'unmatched-microphones',
  'unequal-distances',
  'wall-behind-microphone',
  'talking',
  'meter-smoothing',
  'volume-changed',
] as const
export type FoolingTake = (typeof foolingTakes)[number]

/** The steps of a test done well, and then the six that fool: microphones side by side, the background alone, both places. */
export const practiceNames = ['match', 'quiet', 'sound', ...foolingTakes] as const
export type PracticeName = (typeof practiceNames)[number]

/** What is played: pink noise, or the sweeps of usualSweep. */
export type PracticeSignal = 'noise' | 'sweep'

/** The noise of every practice recording that a page shows: one test, so that its steps belong together. */
export const practiceSeed = 7

/** From the middle of the front to either microphone on the plan in a fair test, m, and to the one too far in front. */
export const practiceDistanceM = 2.5
export const farFrontM = 5
/** From the microphone behind to the wall behind it, in the take that has one, m. */
export const practiceWallM = 0.7

/** What stands behind a practice recording. Levels of heardBands, dB. For 'quiet' they are those of the test that follows: nothing plays. */
export type PracticeTruth = {
  name: PracticeName
  seed: number
  signal: PracticeSignal
  /** What arrives at the microphones, re the front's passband in free air at practiceDistanceM. */
  arrivingDb: { front: number[]; behind: number[] }
  /** Behind minus front as a fair test would find it: both at practiceDistanceM, nothing in the way, nothing changed. */
  fairDb: number[]
  /** Behind minus front as the recordings hold it without noise and talking: with microphones, distances, wall and volume. */
  recordedDb: number[]
  /** How far the microphones are off. */
  microphones: { front: MicrophoneOffsets; behind: MicrophoneOffsets }
  /** From the middle of the front, m; in 'match' both are in front. */
  distanceM: { front: number; behind: number }
  /** How much farther the reflection off the wall behind the microphone travels, m; null without one. */
  extraPathM: number | null
  /** When somebody talks, s. */
  talking: { fromS: number; toS: number }[]
  /** How much louder the rig plays during the take behind than during the one in front, dB. */
  volumeChangeDb: number
  /** Level of the background re the sound in front, both in all, dB. */
  backgroundDb: number
  /** How much faster the recorder's clock runs than the player's, ppm; 0 for noise. */
  driftPpm: number
}

/** A practice recording of two microphones; for 'meter-smoothing' with what the meter showed, dB re full scale, by heardBands. */
export type PracticeTake = {
  sampleRateHz: number
  front: Float32Array
  behind: Float32Array
  truth: PracticeTruth
  meterDb?: { front: number[]; behind: number[] }
}
