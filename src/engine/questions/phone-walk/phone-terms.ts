import type { BandEstimates, ComparedBand, Confidence, Estimate, RangeDifference } from '../../../acoustics/index.ts'
import { bassHz, trebleHz } from '../../scene/third-octaves.ts'

// The terms that the page shares with its calculation, without fetching what calculates.

/** The bands that the sentences speak of, by nominal frequency; the middle is what lies between. */
export const walkRangesHz = { bass: bassHz, middle: { from: 200, to: 1600 }, treble: trebleHz } as const
export type WalkRange = keyof typeof walkRangesHz

/** What one microphone heard at one place: small, plain, fit to be stored. */
export type HeardPlace = {
  /** Third octaves (recordingBands), dB re full scale. */
  levels: BandEstimates
  durationS: number
  /** Time of the blocks that count, s: talk, bangs and clipping are left out. */
  keptS: number
  clippedSamples: number
  /** How far peaks stand above the level, dB; null without a block that counts. */
  crestDb: number | null
}

/** A place that is being listened to: as far as it has come. */
export type HeldPlace = { place: HeardPlace; confidence: Confidence }

/** Here against the front in a range of bands: a difference (front less here), no more than a bound, or nothing. */
export type RangeHere =
  | { kind: 'told'; found: RangeDifference }
  | { kind: 'at-least'; quieterDb: number }
  | { kind: 'not-heard' }

/** Here against the front. */
export type PhoneDifference = {
  /** Front less here, one for each of recordingBands. */
  bands: ComparedBand[]
  ranges: Record<WalkRange, RangeHere>
}

/** What came in just now against the front. */
export type PhoneHere = PhoneDifference & {
  /** Samples at the ceiling in it. */
  clippedSamples: number
  /** As in HeardPlace. */
  crestDb: number | null
}

/** How much louder the front was when it was held again, dB by range; null where it cannot be told. */
export type FrontDrift = Record<WalkRange, Estimate | null>

/** A walk: what was heard without the sound, in front one or several times, and at each place after which of those. */
export type PhoneWalkQuestion = {
  quiet: BandEstimates | null
  fronts: BandEstimates[]
  places: { levels: BandEstimates; front: number }[]
}

export type PhoneWalkAnswer = {
  places: PhoneDifference[]
  /** One for each time that the front was held again: against the time before. */
  drifts: FrontDrift[]
}

/** Where somebody stands: from the middle of the rig's front, degrees (0 in front, 180 behind, positive to the rig's right) and m. */
export type WalkedPlace = { angleDeg: number; distanceM: number }

/** Where the practice takes place: in front of the rig, at three places beside and behind it in the hall, and with nothing playing. */
export const practicePlaces = {
  front: { angleDeg: 0, distanceM: 2.5 },
  beside: { angleDeg: -90, distanceM: 1.5 },
  tables: { angleDeg: 180, distanceM: 2.5 },
  farTables: { angleDeg: 112.6, distanceM: 6.5 },
} as const satisfies Record<string, WalkedPlace>
export type PracticePlace = keyof typeof practicePlaces | 'quiet'
