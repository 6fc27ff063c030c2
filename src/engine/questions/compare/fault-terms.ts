import type { Rig, Verdict } from '../../../acoustics/index.ts'
import type { InAir } from '../../scene/air.ts'
import type { FoolingTake } from './practice-terms.ts'

// The terms of "what spoiled this test?": one of the practice takes that fool, against what a fair test would have found.

export type FaultQuestion = InAir & { name: FoolingTake; rig: Rig }

/** Levels of recordingBands, dB re what the microphone in front showed in the match; null where a band was not measured. */
export type FaultLevels = { front: (number | null)[]; behind: (number | null)[] }

/** A group of bands, behind less front, dB. */
export type RangeFound = { measuredDb: number; fairDb: number }

/** What in the recordings shows the mistake, computed from them. Levels are what was measured less what a fair test finds, dB. */
export type FaultEvidence =
  /** The line behind bends: at its lowest band, near 1 kHz and at its highest; how far the one in front is off at most. */
  | { fault: 'unmatched-microphones'; lowDb: number; middleDb: number; highDb: number; frontMostDb: number }
  /** The line in front is shifted; the distance that this fits, and how far the line behind is off at most. */
  | { fault: 'unequal-distances'; frontDb: number; fitsM: number; behindMostDb: number }
  /** Dips behind that belong to one reflection, from the lowest; how much longer its way is, and the wall that this fits, m. */
  | { fault: 'wall-behind-microphone'; dipsHz: number[]; extraM: number; wallM: number }
  /** When somebody talks, s, how loud at most, dB; a band with these times counted, and without them, behind less front. */
  | {
      fault: 'talking'
      spells: { fromS: number; toS: number }[]
      louderDb: number
      nominalHz: number
      countedDb: number
      leftOutDb: number
    }
  /**
   * From this band on all differ alike, behind less front; how far a slow meter falls in the time after which it was read, s, if it hears
   * nothing more; what the recording of the same minute holds in one of the bands.
   */
  | {
      fault: 'meter-smoothing'
      fromHz: number
      flatDb: number
      readAfterS: number
      fallDb: number
      nominalHz: number
      recordedDb: number
    }
  /** The line behind is shifted, alike from its least to its most; how far the one in front is off at most. */
  | { fault: 'volume-changed'; leastDb: number; mostDb: number; frontMostDb: number }

export type FaultAnswer = {
  name: FoolingTake
  /** The whole recording averaged, talk and all; of the take with the slow meter what the meter showed. */
  measured: FaultLevels
  /** What a fair test of the same rig finds. */
  fair: FaultLevels
  bass: RangeFound
  treble: RangeFound
  /** What the test says: told that both microphones are equally far away and that no wall is near. */
  told: Pick<Verdict, 'bassCause' | 'doubt' | 'trebleBehind'>
  evidence: FaultEvidence
  /** Of the two recordings, dB re full scale: what sets them as loud as each other for the ear. */
  aWeightedDb: { front: number; behind: number }
}
