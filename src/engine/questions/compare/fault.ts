import {
  bandAverages,
  type ComparedBand,
  groupLevelDb,
  LevelStream,
  type Rig,
  rangeDifference,
} from '../../../acoustics/index.ts'
import type { AirState } from '../../scene/air.ts'
import { usualDbA } from '../../scene/scene-terms.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { compareAnswer } from './compare.ts'
import {
  type CompareQuestion,
  comparedRangesHz,
  type LevelSource,
  type SourcePair,
  type Take,
} from './compare-terms.ts'
import { faultEvidence } from './fault-evidence.ts'
import type { FaultAnswer, FaultLevels, FaultQuestion, RangeFound } from './fault-terms.ts'
import { practiceTake } from './practice.ts'
import {
  foolingTakes,
  type PracticeName,
  type PracticeTake,
  practiceDistanceM,
  practiceSeed,
} from './practice-terms.ts'
import { takeSummary } from './take.ts'

/**
 * One of the practice takes that fool, analysed like every recording, against what a fair test finds.
 *
 * @throws RangeError  as practiceTake
 */
export function faultAnswer({ name, rig, air }: FaultQuestion): FaultAnswer {
  const steps = stepsDone(rig, air)
  const { made, take, whole } = analysed(name, rig, air)
  const sources = (of: Take): SourcePair => {
    const { meterDb } = made
    const source = (place: 'front' | 'behind', channel: number): LevelSource =>
      meterDb ? { kind: 'entered', levelsDb: meterDb[place] } : { kind: 'take', take: of, channel }
    return { front: source('front', 0), behind: source('behind', 1) }
  }
  const geometry = { front: { distanceM: practiceDistanceM }, behind: { distanceM: practiceDistanceM } }
  const test: Omit<CompareQuestion, 'front' | 'behind'> = {
    ...steps,
    geometry,
    wallsAreEntered: true,
    bringTogether: false,
    frontDbA: usualDbA,
    ...(air && { air }),
  }
  const zeroDb = referenceOf(steps.match)
  const fairDb = made.truth.fairDb
  const fair = { front: zeroDb.map(() => 0), behind: fairDb }
  const { bands } = compareAnswer({ ...test, ...sources(whole) })
  const measured = levelsOf(bands, zeroDb)
  const answer = compareAnswer({ ...test, ...sources(take) })
  const recorded = made.meterDb && compareAnswer({ ...test, ...bothOf(take) })
  const { bassCause, doubt, trebleBehind } = answer.verdict
  return {
    name,
    measured,
    fair,
    bass: rangeOf(bands, zeroDb, fairDb, comparedRangesHz.bass),
    treble: rangeOf(bands, zeroDb, fairDb, comparedRangesHz.treble),
    told: { bassCause, doubt, trebleBehind },
    evidence: faultEvidence(name, { measured, fair, take, bands, answer, recorded, air }),
    aWeightedDb: {
      front: take.channels[0]?.aWeightedDb ?? Number.NaN,
      behind: take.channels[1]?.aWeightedDb ?? Number.NaN,
    },
  }
}

type Analysed = { made: PracticeTake; take: Take; whole: Take }

/** A practice take with the levels of what counts, and those of the whole recording, talk and all. */
function analysed(name: PracticeName, rig: Rig, air: AirState | undefined): Analysed {
  const made = practiceTake(name, practiceSeed, { rig, ...(air && { air }) })
  const stream = new LevelStream({ sampleRateHz: made.sampleRateHz, channelCount: 2 })
  stream.push([made.front, made.behind])
  const levels = stream.levels()
  const take = takeSummary({ levels })
  const channels = take.channels.map((channel, index) => ({
    ...channel,
    levels: bandAverages(levels, index).estimates,
  }))
  return { made, take, whole: { ...take, channels, paired: null } }
}

const bothOf = (take: Take): SourcePair => ({
  front: { kind: 'take', take, channel: 0 },
  behind: { kind: 'take', take, channel: 1 },
})

let done: { key: string; steps: { match: SourcePair; quiet: SourcePair } } | undefined

/** The first two steps of the test, which all six crews did well: made once for a rig in an air. */
function stepsDone(rig: Rig, air: AirState | undefined): { match: SourcePair; quiet: SourcePair } {
  const key = JSON.stringify([rig, air])
  if (done?.key !== key) {
    const of = (name: PracticeName) => bothOf(analysed(name, rig, air).take)
    done = { key, steps: { match: of('match'), quiet: of('quiet') } }
  }
  return done.steps
}

/** What the microphone in front showed in the match, dB re full scale, by recordingBands. */
function referenceOf({ front }: SourcePair): number[] {
  const levels = front.kind === 'take' ? (front.take.channels[front.channel]?.levels ?? []) : []
  return levels.map((estimate) => {
    if (!estimate) throw new Error('the practice match lacks a band')
    return estimate.levelDb
  })
}

function levelsOf(bands: readonly ComparedBand[], zeroDb: readonly number[]): FaultLevels {
  const of = (place: 'front' | 'behind') =>
    bands.map(({ levels }, band) => (levels ? levels[place].levelDb - (zeroDb[band] as number) : null))
  return { front: of('front'), behind: of('behind') }
}

function rangeOf(
  bands: readonly ComparedBand[],
  zeroDb: readonly number[],
  fairDb: readonly number[],
  range: { from: number; to: number },
): RangeFound {
  const measured = rangeDifference(bands, range)
  if (!measured) throw new Error('the practice set lacks bands')
  const group = (levels: readonly number[]) => groupLevelDb(levels, heardBands, range.from, range.to)
  const behind = zeroDb.map((levelDb, band) => levelDb + (fairDb[band] as number))
  return { measuredDb: -measured.difference.levelDb, fairDb: group(behind) - group(zeroDb) }
}

const known = new Map<string, FaultAnswer[]>()

/** All of them in the order of their letters, in the usual air: a dozen seconds of work, done once for a rig. */
export function faultAnswers(rig: Rig): FaultAnswer[] {
  const answers = known.get(rig.name) ?? foolingTakes.map((name) => faultAnswer({ name, rig }))
  known.set(rig.name, answers)
  return answers
}
