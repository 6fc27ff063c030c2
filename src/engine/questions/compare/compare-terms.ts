import type {
  BandEstimates,
  ComparedBand,
  ComparedGeometry,
  Confidence,
  DetailEstimates,
  Fault,
  MicrophoneResponse,
  RecordingProblem,
  Verdict,
} from '../../../acoustics/index.ts'
import type { InAir } from '../../scene/air.ts'
import type { Heard } from '../../scene/heard.ts'
import { bassHz, trebleHz } from '../../scene/third-octaves.ts'

/** A file that cannot be taken, and why; `refusedWords` has the words. */
export type Refused = { kind: 'refused'; problem: RecordingProblem }

/** The bands that the sentences of a comparison speak of, by nominal mid-band frequency; the middle is what lies between. */
export const comparedRangesHz = { bass: bassHz, middle: { from: 200, to: 1600 }, treble: trebleHz } as const

/** What one microphone has of a take. */
export type TakeChannel = {
  /** Third octaves and twenty-fourth octaves, dB re full scale. */
  levels: BandEstimates
  detail: DetailEstimates
  /** Whole levels over the kept blocks, dB re full scale, and the highest sample, 0 … 1; null without a kept block. */
  aWeightedDb: number | null
  cWeightedDb: number | null
  peak: number
  confidence: Confidence
}

/** What is kept of a take once it has been analysed: small, plain, fit to be stored. */
export type Take = {
  sampleRateHz: number
  durationS: number
  /** Time of the blocks that count, s. */
  keptS: number
  channels: TakeChannel[]
  /** First channel less second, if both were recorded at once. */
  paired: BandEstimates | null
  faults: Fault[]
  clippedSamples: number
}

/** Where a level comes from: a channel of a take, or levels that were entered in third octaves, null where there is none. */
export type LevelSource =
  | { kind: 'take'; take: Take; channel: number }
  | { kind: 'entered'; levelsDb: (number | null)[] }

/** Two places, or two microphones side by side. */
export type SourcePair = { front: LevelSource; behind: LevelSource }

/** The whole test. */
export type CompareQuestion = InAir &
  SourcePair & {
    /** Both microphones side by side; without it they count as alike. */
    match?: SourcePair
    /** Both places without the sound. */
    quiet?: SourcePair
    /** How either departs from a flat one, taken off in every step, so that the match tells only what is left. */
    microphones?: { front?: MicrophoneResponse; behind?: MicrophoneResponse }
    /** What was measured with a tape; null if nothing was. */
    geometry: ComparedGeometry | null
    /** Whether every wall near both places was entered, or there is none. */
    wallsAreEntered: boolean
    /** Whether the level behind is brought to the distance of the front. */
    bringTogether: boolean
    /** How loud the front is taken to be for what the ear makes of both, dB(A). */
    frontDbA: number
  }

export type CompareAnswer = {
  /** One for each of recordingBands. */
  bands: ComparedBand[]
  /** Front less behind in twenty-fourth octaves; null without recordings. */
  detail: DetailEstimates | null
  verdict: Verdict
  /** What the ear makes of both with the front as loud as assumed; null if too few bands were measured, or one is too loud. */
  heard: { front: Heard; behind: Heard } | null
  /** Nominal frequencies of bands that count as silent for that, because they were not measured, Hz. */
  unheardHz: number[]
}

/** Standard error of levels that were entered without one, dB; common practice, no source: what a meter's display wanders by. */
export const enteredErrorDb = 0.5
