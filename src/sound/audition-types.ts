// Types and constants of the audition alone, so that a page can name them without fetching the sound code.

/** What is played: pink noise, the synthesised music loop, or the speech-like source. */
export const auditionSignals = ['pink-noise', 'music', 'speech'] as const
export type AuditionSignal = (typeof auditionSignals)[number]

/** Where it is heard: at the listener, or in front of the loudspeaker. */
export type AuditionPlace = 'here' | 'front'

/**
 * Impulse response of each place at the audition's sample rate; 0 dB is the front's passband. Both carry a common delay
 * of 5 ms or more: a response computed up to half the sample rate has a part before its beginning, which without that
 * room would come round to its end and cost the highest bands a decibel or two.
 */
export type PlaceResponses = Record<AuditionPlace, Float32Array>

/** How much louder one place is than the other, dB, in the groups of third octaves that the sentences speak of. */
export type PlaceChangeDb = { bassDb: number; middleDb: number; trebleDb: number }

/** Extra gain of each place, dB, 0 or less; used to match the two in loudness. */
export type PlaceGainsDb = Record<AuditionPlace, number>

/** Whether the louder place is turned down until both are equally loud, and how loud the front is where the reader works. */
export type Matching = {
  matched: boolean
  /** A-weighted level in front, dB re 20 µPa: what is equally loud depends on it. */
  frontLevelDbA: number
}

/** Quietest volume setting, dB re the signal as made. */
export const lowestVolumeDb = -60

/**
 * Volume of a new audition, dB re the signal as made. Noise in front is then as loud as a broadcast programme (−23 LUFS, EBU
 * R 128): what a device plays at its usual volume, and quieter than most music.
 */
export const startVolumeDb = -6

/** Listening to a signal as it arrives at two places. After `dispose` every call does nothing. */
export type Audition = {
  /** Sample rate that the responses must be made for, Hz. */
  readonly sampleRateHz: number
  /** Whether the signal has been started and neither stopped nor taken away. */
  readonly playing: boolean
  /** Whether it is gone for good, by `dispose` or because the browser has closed its context. */
  readonly disposed: boolean
  /** By how many dB both places are played below the volume, so that nothing clips; 0 or more. */
  readonly turnedDownDb: number
  /**
   * Takes new impulse responses; while playing, each changed one is faded in once it has settled. If they come
   * faster than the fade, only the newest is taken. Throws RangeError for an empty response or a sample that is not finite.
   */
  setResponses(responses: PlaceResponses): void
  /**
   * Changes the signal, one of ours or a loop of somebody else's, cross-fading while playing. Resolves when the change is under way. Rejects if the signal cannot be
   * made, or not in time; the one before goes on, and another call tries again.
   */
  setSignal(signal: AuditionSignal | Float32Array): Promise<void>
  /** Moves the ear, with a cross-fade. */
  setPlace(place: AuditionPlace): void
  /**
   * Turns the louder place down until both are equally loud to the ear (equal sones), or lets both have their true level;
   * kept up when signal or responses change. Throws RangeError for a level outside 0 … 120 dB(A).
   */
  setMatching(matching: Matching): void
  /** What `here` has more than `front` as both are played now, matching included, dB in bass, middle and treble. */
  changeDb(): PlaceChangeDb
  /** Sets the volume, −60 … 0 dB, and by how much both places are raised over it, 0 … 24 dB. Throws RangeError otherwise. */
  setVolumeDb(volumeDb: number, raisedDb?: number): void
  /**
   * Fades the signal in from its beginning. Resolves when it is heard, or when it has been stopped before; rejects in the
   * reader's words if the browser lets nothing be heard, and is stopped then. Another call tries again.
   */
  start(): Promise<void>
  /** Fades the signal out in 60 ms, then stops it. */
  stop(): void
  /** Fades everything out in 100 ms, what rings still as well; a start meanwhile waits for that. */
  cut(): void
  /** Highest sample that has left in the last few hundredths of a second, re digital full scale. */
  peak(): number
  /** Fades out if need be and gives everything back. */
  dispose(): void
}
