import {
  amplitudeLevelDb,
  bandLevelsDb,
  type Complex,
  dipsHz,
  groupLevelDb,
  magnitude,
  risesHz,
} from '../../../acoustics/index.ts'
import { speedOfSoundAtMps } from '../../../acoustics/medium/air.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { liftDb, passbandDb } from '../../scene/free-field.ts'
import { type Heard, heardPlaces } from '../../scene/heard.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import { bassHz, heardBands } from '../../scene/third-octaves.ts'
import { answerKnotsHz, arrivalsIn, requireWallPlaces, thirdOctavesDb, wallField, wallPlaces } from './wall-arrivals.ts'
import { seemsFartherM, type WallExtreme, wallExtremes } from './wall-extremes.ts'
import { narrowBands, type WallScene, wallChartHz } from './wall-terms.ts'
import { type WaveTrains, waveTrains } from './wave-trains.ts'

/** A rig in front of a wall, a listener in front and one between box and wall, both on the axis at ear height. */
export type WallQuestion = WallScene & {
  /** From the front face to the listener in front, m. */
  frontM: number
  /** From the wall to the place between box and wall, m; at most the gap. */
  fromWallM: number
  /** The frequency that is looked at, Hz. */
  frequencyHz: number
  /** How loud pink noise is where the rig is set flat, dB(A); usualDbA unless given. */
  referenceDbA?: number
}

export type WallAnswer = {
  /** From the front face to the wall, and there and back, m: what the rule counts. */
  faceToWallM: number
  thereAndBackM: number
  /** Every dip and rise by the rule up to the chart's end, Hz: odd halves, and whole numbers of waves there and back. */
  ruleDipsHz: number[]
  ruleRisesHz: number[]
  /** The lowest dip of 1 dB or more and the lowest rise of 1 dB or more above it, computed; null if there is none. */
  dip: WallExtreme | null
  rise: WallExtreme | null
  /** How much farther away the wall seems than it is, by the computed dip, m; null without one. */
  seemsFartherM: number | null
  /** How far the dip moves when the air is 10 °C warmer, Hz; null without one. */
  dipShiftHz: number | null
  /** Levels of narrowBands, dB re the passband in front without the wall: in front without and with it, and between box and wall. */
  frontFreeDb: number[]
  frontDb: number[]
  rearDb: number[]
  trains: WaveTrains
  /** Between box and wall re in front, with the wall, at the frequency that is looked at, dB. */
  rearAtFrequencyDb: number
  /** Bass group (pink noise): in front with the wall re without; between box and wall re in front. dB */
  frontBassChangeDb: number
  rearBassDb: number
  /** Part of rearBassDb that is only the shorter way from the front face, dB. */
  pathDb: number
  /** What the ear makes of pink noise; null if a third octave passes what the method takes. */
  heard: { rear: Heard; front: Heard; frontFree: Heard } | null
}

/**
 * Everything that the figure of the wall shows.
 *
 * @throws RangeError for a distance, frequency or level out of range, or a place behind the box's back
 */
export function wallAnswer(question: WallQuestion): WallAnswer {
  const { rig, surroundings, frontM, frequencyHz, referenceDbA } = question
  requireWallPlaces(question)
  requireInRange('frequencyHz', frequencyHz, { ...wallChartHz, unit: 'Hz' })
  const field = wallField(question)
  const { air } = field
  const lift = liftDb(field.free, referenceDbA)
  const places = wallPlaces(question, field)
  const front = arrivalsIn(field, places.front, answerKnotsHz)
  const rear = arrivalsIn(field, places.rear, answerKnotsHz)

  const faceToWallM = rigDepthM(rig) + surroundings.gapM
  const thereAndBackM = 2 * faceToWallM
  const { dip, rise } = wallExtremes(front)
  const levels = {
    frontFree: thirdOctavesDb(front.without, front.spreadS),
    front: thirdOctavesDb(front.both, front.spreadS),
    rear: thirdOctavesDb(rear.both, rear.spreadS),
  }
  const zeroDb = passbandDb(levels.frontFree)
  const narrow = (transfer: (frequencyHz: number) => Complex) =>
    Array.from(bandLevelsDb(transfer, [...narrowBands], 3), (level) => level - zeroDb)
  const bass = (of: Float64Array) => groupLevelDb(of, heardBands, bassHz.from, bassHz.to)
  return {
    faceToWallM,
    thereAndBackM,
    ruleDipsHz: dipsHz(thereAndBackM, wallChartHz.max, air),
    ruleRisesHz: risesHz(thereAndBackM, wallChartHz.max, air),
    dip,
    rise,
    seemsFartherM: dip && seemsFartherM(dip.frequencyHz, thereAndBackM, air),
    dipShiftHz: dip && dip.frequencyHz * (speedOfSoundAtMps(air.temperatureC + 10) / air.speedOfSoundMps - 1),
    frontFreeDb: narrow(front.without),
    frontDb: narrow(front.both),
    rearDb: narrow(rear.both),
    trains: waveTrains(front, frequencyHz),
    rearAtFrequencyDb: amplitudeLevelDb(magnitude(rear.both(frequencyHz)) / magnitude(front.both(frequencyHz))),
    frontBassChangeDb: bass(levels.front) - bass(levels.frontFree),
    rearBassDb: bass(levels.rear) - bass(levels.front),
    pathDb: amplitudeLevelDb(frontM / -places.rear.zM),
    heard: heardPlaces(levels, lift, 'free'),
  }
}
