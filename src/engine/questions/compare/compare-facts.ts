import { backgroundMarginsDb, dipsHz, distanceStepDb, type Rig } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { count, decibels, factsBy, hertz, keptByRig, metres, needed, seconds } from '../fact.ts'
import { faultAnswers } from './fault.ts'
import { meterFallDb } from './fault-evidence.ts'
import type { FaultEvidence } from './fault-terms.ts'
import { meterReadS } from './practice.ts'
import { type FoolingTake, farFrontM, practiceDistanceM, practiceWallM } from './practice-terms.ts'

/** The takes by the names of the rows of the lesson's table. */
export const slipRows = {
  swapped: 'unmatched-microphones',
  far: 'unequal-distances',
  wall: 'wall-behind-microphone',
  talk: 'talking',
  meter: 'meter-smoothing',
  volume: 'volume-changed',
} as const satisfies Record<string, FoolingTake>
type SlipRow = keyof typeof slipRows

/** The band whose scatter the words speak of, nominal Hz, and how long it is averaged, s. */
const scatterBandHz = 50
const [shortS, longS] = [1, 30] as const
/** How long somebody waits who reads a slow meter with patience, s. */
const patienceS = 10
/** A dip that the words still allow, dB. */
const allowedDipDb = 3

/** The numbers of the lesson for one rig, from the function that its figure uses. */
export const compareFacts = keptByRig((rig: Rig) => {
  const answers = faultAnswers(rig)
  const of = (row: SlipRow) =>
    needed(
      answers.find(({ name }) => name === slipRows[row]),
      `the take "${row}"`,
    )
  const rows = Object.keys(slipRows) as SlipRow[]
  const [first] = answers
  const fair = needed(first, 'a fair test')
  const talk = evidenceOf(of('talk').evidence, 'talking')
  const meter = evidenceOf(of('meter').evidence, 'meter-smoothing')
  return {
    ...factsBy<`bass-${SlipRow}`>(rows.map((row) => [`bass-${row}`, decibels(-of(row).bass.measuredDb)])),
    ...factsBy<`treble-${SlipRow}`>(rows.map((row) => [`treble-${row}`, decibels(-of(row).treble.measuredDb)])),
    'bass-fair': decibels(-fair.bass.fairDb),
    'treble-fair': decibels(-fair.treble.fairDb),
    'more-behind': count(answers.filter(({ bass }) => bass.measuredDb > 0).length),
    distance: metres(practiceDistanceM),
    'far-front': metres(farFrontM),
    'distance-step': decibels(distanceStepDb({ frontM: practiceDistanceM, behindM: farFrontM })),
    'wall-gap': metres(practiceWallM),
    'wall-dip': hertz(needed(dipsHz(2 * practiceWallM, 1000, airOf(usualAir))[0], 'a dip')),
    'clear-wall': metres(clearWallM(practiceDistanceM, allowedDipDb)),
    'talk-counted': decibels(-talk.countedDb),
    'talk-left-out': decibels(-talk.leftOutDb),
    'meter-read': seconds(meterReadS),
    'meter-fall': decibels(meterFallDb(meterReadS)),
    'meter-fall-patient': decibels(meterFallDb(patienceS)),
    'meter-recorded': decibels(-meter.recordedDb),
    'scatter-short': decibels(scatterDb(shortS)),
    'scatter-long': decibels(scatterDb(longS)),
    'background-clear': decibels(addedDb(backgroundMarginsDb.clear)),
    'background-weak': decibels(addedDb(backgroundMarginsDb.weak)),
  }
})

function evidenceOf<F extends FaultEvidence['fault']>(evidence: FaultEvidence, fault: F) {
  if (evidence.fault !== fault)
    throw new Error(`The lesson speaks of ${fault}, and the evidence is of ${evidence.fault}.`)
  return evidence as Extract<FaultEvidence, { fault: F }>
}

/**
 * How far a hard wall beyond a microphone has to be for its lowest dip to be no deeper than so much, for a point source:
 * ρ = r/(r + 2w) = 1 − 10^(−D/20)
 */
const clearWallM = (distanceM: number, dipDb: number): number => (distanceM / (1 - 10 ** (-dipDb / 20)) - distanceM) / 2

/** Standard error of the level of steady noise in a third octave, averaged for so long: 4.34 dB/√(BT). */
function scatterDb(timeS: number): number {
  const band = needed(
    heardBands.find(({ nominalHz }) => nominalHz === scatterBandHz),
    'a band',
  )
  return (10 * Math.LOG10E) / Math.sqrt((band.upperHz - band.lowerHz) * timeS)
}

/** What a background adds to a level that stands so far above it, both together: −10 lg (1 − 10^(−m/10)). */
const addedDb = (marginDb: number): number => -10 * Math.log10(1 - 10 ** (-marginDb / 10))
