import { type ComparedBand, type ComparedGeometry, verdict } from '../../../acoustics/index.ts'
import { slowMeterS } from '../../../acoustics/measuring/practice-recording.ts'
import { type AirState, airOf } from '../../scene/air.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { type CompareAnswer, comparedRangesHz, type Take } from './compare-terms.ts'
import type { FaultEvidence, FaultLevels } from './fault-terms.ts'
import { meterReadS } from './practice.ts'
import { type FoolingTake, practiceDistanceM, practiceWallM } from './practice-terms.ts'

/** What the evidence is read from. */
type Found = {
  measured: FaultLevels
  fair: FaultLevels
  take: Take
  /** The whole recording averaged. */
  bands: readonly ComparedBand[]
  /** What the test makes of the take. */
  answer: CompareAnswer
  /** The same of the sound, where a meter was read instead. */
  recorded: CompareAnswer | undefined
  air: AirState | undefined
}

/** A band of the voice, and one of the treble, that the evidence names, nominal Hz. */
const voiceHz = 1000
const trebleBandHz = 4000
/** Bands that differ alike within so much count as flat, dB. */
const flatDb = 1

/** How far a slow meter falls in a time in which it hears nothing:  10 lg e · T/τ, dB. */
export const meterFallDb = (timeS: number): number => (10 * Math.LOG10E * timeS) / slowMeterS

/** What in the recordings of a take shows its mistake. */
export function faultEvidence(name: FoolingTake, found: Found): FaultEvidence {
  return evidences[name](found)
}

const evidences: Record<FoolingTake, (found: Found) => FaultEvidence> = {
  'unmatched-microphones': (found) => {
    const off = offBy(found, 'behind')
    const known = off.filter((each) => each !== null)
    return {
      fault: 'unmatched-microphones',
      lowDb: known[0] ?? 0,
      middleDb: off[bandAt(voiceHz)] ?? 0,
      highDb: known.at(-1) ?? 0,
      frontMostDb: most(offBy(found, 'front')),
    }
  },
  'unequal-distances': (found) => {
    const frontDb = mean(offBy(found, 'front'))
    return {
      fault: 'unequal-distances',
      frontDb,
      fitsM: practiceDistanceM * 10 ** (-frontDb / 20),
      behindMostDb: most(offBy(found, 'behind')),
    }
  },
  'wall-behind-microphone': ({ answer, bands, air }) => {
    // With the wall entered that the crew left out: which dips it explains.
    const geometry: ComparedGeometry = {
      front: { distanceM: practiceDistanceM },
      behind: { distanceM: practiceDistanceM, wallBeyondM: practiceWallM },
    }
    const { detail } = answer
    const { dips } = verdict({
      bands,
      detail,
      geometry,
      wallsAreEntered: true,
      ranges: comparedRangesHz,
      air: airOf(air),
    })
    const fitting = dips.filter(({ fits }) => fits?.cause === 'wall-beyond').map(({ frequencyHz }) => frequencyHz)
    const dipsHz = fitting.sort((a, b) => a - b)
    const extraM = dips.find(({ frequencyHz }) => frequencyHz === dipsHz[0])?.extraM ?? Number.NaN
    return { fault: 'wall-behind-microphone', dipsHz, extraM, wallM: extraM / 2 }
  },
  talking: ({ take, bands, answer }) => {
    const talk = take.faults.filter(({ kind }) => kind === 'talking')
    const at = (all: readonly ComparedBand[]) => -(all[bandAt(voiceHz)]?.difference?.levelDb ?? Number.NaN)
    return {
      fault: 'talking',
      spells: talk.map(({ fromS, toS }) => ({ fromS, toS })),
      louderDb: Math.max(...talk.map(({ amountDb }) => amountDb)),
      nominalHz: voiceHz,
      countedDb: at(bands),
      leftOutDb: at(answer.bands),
    }
  },
  'meter-smoothing': ({ measured, recorded }) => {
    const levels = measured.behind
    const lastDb = levels.at(-1) ?? 0
    // From the highest band down, as far as they are alike.
    let from = levels.length - 1
    while (from > 0 && Math.abs((levels[from - 1] ?? Number.NaN) - lastDb) <= flatDb) from -= 1
    return {
      fault: 'meter-smoothing',
      fromHz: heardBands[from]?.nominalHz as number,
      flatDb: mean(levels.slice(from)),
      readAfterS: meterReadS,
      fallDb: meterFallDb(meterReadS),
      nominalHz: trebleBandHz,
      recordedDb: -(recorded?.bands[bandAt(trebleBandHz)]?.difference?.levelDb ?? Number.NaN),
    }
  },
  'volume-changed': (found) => {
    const off = offBy(found, 'behind').filter((each) => each !== null)
    return {
      fault: 'volume-changed',
      leastDb: Math.min(...off),
      mostDb: Math.max(...off),
      frontMostDb: most(offBy(found, 'front')),
    }
  },
}

const bandAt = (nominalHz: number): number => heardBands.findIndex((band) => band.nominalHz === nominalHz)

/** What was measured at a place less what a fair test finds there. */
const offBy = ({ measured, fair }: Found, place: 'front' | 'behind'): (number | null)[] =>
  measured[place].map((levelDb, band) => (levelDb === null ? null : levelDb - (fair[place][band] as number)))

const most = (values: readonly (number | null)[]): number => Math.max(...values.map((value) => Math.abs(value ?? 0)))

function mean(values: readonly (number | null)[]): number {
  const known = values.filter((value) => value !== null)
  return known.reduce((sum, value) => sum + value, 0) / known.length
}
