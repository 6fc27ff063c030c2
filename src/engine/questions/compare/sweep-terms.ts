import {
  type BandEstimates,
  type ComparedBand,
  type RangeDifference,
  type SweepFinding,
  sweepSignalS,
  usualSweep,
} from '../../../acoustics/index.ts'
import type { CompareQuestion } from './compare-terms.ts'

/** What is played: usualSweep, as loud as the pink noise. */
export const sweepS = sweepSignalS(usualSweep)

/** What is to be known about one place of a test by sweeps, with its place on the recording's own clock. */
export type SweptFinding =
  | Exclude<SweepFinding, { kind: 'no-sweep' }>
  /** A second arrival within a box's own length of the first: nothing can be cut between both, and they are told as one. */
  | { kind: 'merged'; gapS: number; levelDb: number }
  /** The first reflection comes so soon that the cut tells next to nothing. */
  | { kind: 'too-close'; gapS: number }
  /** The samples have so few bits that their rounding is noise. */
  | { kind: 'coarse'; bits: number }
  /** The file ends before the samples that it speaks of. */
  | { kind: 'file-cut-short' }

/** What is kept of one place once its sweeps have been analysed: small, plain, fit to be stored. */
export type SweptPlace = {
  sampleRateHz: number
  durationS: number
  /** All that arrives, and what the box sends by itself (null below validFromHz), in recordingBands, dB re the sweep as it was played. */
  whole: BandEstimates
  box: BandEstimates
  /** From where on the box is told, Hz; 0 if nothing had to be cut. */
  validFromHz: number
  /** From the direct sound to where the first reflection begins, s; null without one. */
  gapS: number | null
  /** T20 by octave, s; null where it cannot be told. */
  decays: { nominalHz: number; decayS: number | null }[]
  findings: SweptFinding[]
}

/** Box or hall: both places, and what is known of the two microphones as in the other steps. */
export type BoxOrHallQuestion = { front: SweptPlace; behind: SweptPlace } & Pick<
  CompareQuestion,
  'match' | 'microphones'
>

/** Some bands together, front less behind, and what the hall adds at either place, dB. */
export type SweptRange = {
  box: RangeDifference
  /** Of the same bands. */
  whole: RangeDifference
  addedDb: { front: number; behind: number }
}

export type BoxOrHallAnswer = {
  /** Each of recordingBands, front less behind: all that arrives, and what the box alone sends. */
  whole: ComparedBand[]
  box: ComparedBand[]
  /** From where on the box is told, Hz; 0 if nothing had to be cut. */
  validFromHz: number
  /** Null where the box is not told in two thirds of the bands. */
  treble: SweptRange | null
  bass: SweptRange | null
  /** In the bass, all that arrives; null if too few bands came through. */
  wholeBass: RangeDifference | null
}
