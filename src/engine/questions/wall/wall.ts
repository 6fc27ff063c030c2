import {
  type Air,
  amplitudeLevelDb,
  amplitudeRatio,
  bandLevelsDb,
  type Complex,
  dipsHz,
  divide,
  fromPolar,
  groupLevelDb,
  impulseResponse,
  magnitude,
  multiply,
  type PlanGrid,
  type PlanLevels,
  type Point,
  planLevelReFrontDb,
  risesHz,
  transferKnotsHz,
} from '../../../acoustics/index.ts'
import { speedOfSoundAtMps } from '../../../acoustics/medium/air.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { aWeightedAtReferenceDb, passbandDb } from '../../scene/free-field.ts'
import { type Heard, heard, heardBands } from '../../scene/heard.ts'
import { bassHz, earHeightM, loudestDbA, quietestDbA, usualDbA } from '../../scene/scene-terms.ts'
import { type Arrivals, arrivalsAt, type WallField, wallField } from './wall-arrivals.ts'
import { narrowBands, rigDepthM, type WallScene, wallChartHz, wallPlanM, wallRange } from './wall-terms.ts'

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

/** Where the wall takes or gives most in front: the frequency and by how much, dB. */
export type WallExtreme = { frequencyHz: number; changeDb: number }

/** The two wave trains in front at one frequency, from the first arrival on; 1 is the amplitude without the wall. */
export type WaveTrains = {
  /** How late the wall's train is, s, and how many waves that is. */
  lateS: number
  lateWaves: number
  /** Amplitude of the wall's train re the other. */
  wallAmplitude: number
  /** Level of both together re the one without the wall, dB, once both are there. */
  changeDb: number
  timesMs: number[]
  direct: number[]
  wall: number[]
  sum: number[]
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

const gapRange = { ...wallRange.gapM, unit: 'm' }

/** Lines of a third octave of the smooth part; 24 an octave. */
const knotsPerOctave = 24
const answerKnotsHz = Array.from({ length: 10 * knotsPerOctave + 4 }, (_, i) => 18 * 2 ** (i / knotsPerOctave))

/** Highest third-octave level that the loudness method takes in the bass, dB re 20 µPa. */
const highestBandDb = 120

/**
 * Everything that the figure of the wall shows.
 *
 * @throws RangeError for a distance, frequency or level out of range, or a place behind the box's back
 */
export function wallAnswer(question: WallQuestion): WallAnswer {
  const { rig, gapM, frontM, fromWallM, frequencyHz, referenceDbA = usualDbA } = question
  requireInRange('frontM', frontM, { ...wallRange.frontM, unit: 'm' })
  requireInRange('fromWallM', fromWallM, { min: 0, max: requireInRange('gapM', gapM, gapRange), unit: 'm' })
  requireInRange('frequencyHz', frequencyHz, { ...wallChartHz, unit: 'Hz' })
  requireInRange('referenceDbA', referenceDbA, { min: quietestDbA, max: loudestDbA, unit: 'dB(A)' })
  const field = wallField(question)
  const { air } = field
  const places = placesOf(question, field)
  const front = arrivalsAt(field, places.front, answerKnotsHz)
  const rear = arrivalsAt(field, places.rear, answerKnotsHz)

  const faceToWallM = rigDepthM(rig) + gapM
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
    heard: heardAt(levels, referenceDbA - aWeightedAtReferenceDb(field.free)),
  }
}

/** Both listeners. */
function placesOf({ frontM, fromWallM }: WallQuestion, { wallZM }: WallField): { front: Point; rear: Point } {
  return {
    front: { xM: 0, yM: earHeightM, zM: frontM },
    rear: { xM: 0, yM: earHeightM, zM: wallZM + fromWallM },
  }
}

/** How far the wall's change at its dips and rises must go to count, dB. */
const worthNamingDb = 1

/** Dips and rises of 1 dB or more, from the lowest up: found on a grid of 1/48 octave, then closer by golden section. */
function extremesOf({ both, without }: Arrivals, sign: 1 | -1): WallExtreme[] {
  const changeDb = (lg: number) => amplitudeLevelDb(magnitude(both(2 ** lg)) / magnitude(without(2 ** lg)))
  const [from, to] = [Math.log2(wallChartHz.min), Math.log2(wallChartHz.max)]
  const steps = Math.ceil(48 * (to - from))
  const grid = Array.from({ length: steps + 1 }, (_, step) => from + ((to - from) * step) / steps)
  const heights = grid.map((lg) => sign * changeDb(lg))
  return heights.flatMap((height, i) => {
    const [before, after] = [heights[i - 1], heights[i + 1]]
    if (before === undefined || after === undefined) return []
    if (height <= before || height < after || height < worthNamingDb) return []
    const lg = peakBetween((x) => sign * changeDb(x), grid[i - 1] as number, grid[i + 1] as number)
    return [{ frequencyHz: 2 ** lg, changeDb: changeDb(lg) }]
  })
}

/** The lowest dip, and the lowest rise above it (or of all, without a dip). */
function wallExtremes(arrivals: Arrivals): { dip: WallExtreme | null; rise: WallExtreme | null } {
  const dip = extremesOf(arrivals, -1)[0] ?? null
  const rise = extremesOf(arrivals, 1).find(({ frequencyHz }) => frequencyHz > (dip?.frequencyHz ?? 0)) ?? null
  return { dip, rise }
}

/**
 * What the wall changes in front, at frequencies from 25 to 500 Hz, dB, and every dip of 1 dB or more in that range.
 *
 * @throws RangeError as wallAnswer
 */
export function wallChanges(
  scene: WallScene & { frontM: number },
  frequenciesHz: readonly number[],
): { changesDb: number[]; dips: WallExtreme[] } {
  requireInRange('frontM', scene.frontM, { ...wallRange.frontM, unit: 'm' })
  const place = { xM: 0, yM: earHeightM, zM: scene.frontM }
  const front = arrivalsAt(wallField(scene), place, answerKnotsHz)
  return {
    changesDb: frequenciesHz.map((frequencyHz) => {
      requireInRange('frequencyHz', frequencyHz, { ...wallChartHz, unit: 'Hz' })
      return amplitudeLevelDb(magnitude(front.both(frequencyHz)) / magnitude(front.without(frequencyHz)))
    }),
    dips: extremesOf(front, -1),
  }
}

/** The abscissa of a peak between two others, by golden section. */
function peakBetween(of: (x: number) => number, low: number, high: number): number {
  const golden = (Math.sqrt(5) - 1) / 2
  let [from, to] = [low, high]
  for (let round = 0; round < 30; round++) {
    const [left, right] = [to - golden * (to - from), from + golden * (to - from)]
    if (of(left) > of(right)) to = right
    else from = left
  }
  return (from + to) / 2
}

/** The wall's distance by which the rule would give the computed dip, less the true one, m; the rule's odd number is the nearest one. */
function seemsFartherM(dipHz: number, thereAndBackM: number, air: Air): number {
  const halfWavesM = air.speedOfSoundMps / (2 * dipHz)
  const odd = 2 * Math.round((thereAndBackM / halfWavesM - 1) / 2) + 1
  return (odd * halfWavesM - thereAndBackM) / 2
}

/** Points of the drawn trains, and how many waves are drawn from the moment at which both are there. */
const trainPoints = 241
const wavesTogether = 2.5

/**
 * Two trains of a sine that begins at the source at one moment. The wall's one begins when its wave does, which is its phase
 * delay: the way over the wall, and what going round the box adds.
 */
function waveTrains({ without, overWall, both, wallDelayS }: Arrivals, frequencyHz: number): WaveTrains {
  const direct = without(frequencyHz)
  const ratio = divide(overWall(frequencyHz), direct)
  const cycles = frequencyHz * wallDelayS
  const phaseCycles = -Math.atan2(ratio.im, ratio.re) / (2 * Math.PI)
  const lateWaves = phaseCycles + Math.round(cycles - phaseCycles)
  const wallAmplitude = magnitude(ratio)
  const waves = Array.from({ length: trainPoints }, (_, i) => ((lateWaves + wavesTogether) * i) / (trainPoints - 1))
  const train = (startWaves: number, amplitude: number) =>
    waves.map((wave) => (wave < startWaves ? 0 : amplitude * Math.sin(2 * Math.PI * (wave - startWaves))))
  const [alone, reflected] = [train(0, 1), train(lateWaves, wallAmplitude)]
  return {
    lateS: lateWaves / frequencyHz,
    lateWaves,
    wallAmplitude,
    changeDb: amplitudeLevelDb(magnitude(both(frequencyHz)) / magnitude(direct)),
    timesMs: waves.map((wave) => (1000 * wave) / frequencyHz),
    direct: alone,
    wall: reflected,
    sum: alone.map((value, i) => value + (reflected[i] as number)),
  }
}

/** Third-octave levels of heardBands: lines close enough for the ripple that the longest way round makes. */
function thirdOctavesDb(transfer: (frequencyHz: number) => Complex, spreadS: number): Float64Array {
  return Float64Array.from(heardBands, (band) => {
    const ripples = (band.upperHz - band.lowerHz) * spreadS
    return bandLevelsDb(transfer, [band], Math.min(1000, 8 + Math.ceil(5 * ripples)))[0] as number
  })
}

function heardAt(
  { rear, front, frontFree }: Record<'rear' | 'front' | 'frontFree', Float64Array>,
  liftDb: number,
): WallAnswer['heard'] {
  const loudest = Math.max(...rear, ...front, ...frontFree) + liftDb
  if (loudest > highestBandDb) return null
  const lifted = (levels: Float64Array) => heard(levels.map((level) => level + liftDb)).heard
  return { rear: lifted(rear), front: lifted(front), frontFree: lifted(frontFree) }
}

/** Cells of the picture, across the axis and along it. */
const planCells = { across: 41, along: 81 }

/** Levels re free air in front at the same distance; index = row × columns + column, rows from the wall forward. */
export type WallPicture = { columns: number; rows: number } & PlanLevels

/** The plan's levels at one frequency. Without a side wall both sides are alike and only one is computed. */
export function wallPicture(question: WallScene & { frequencyHz: number }): WallPicture {
  const { frequencyHz, sideGapM } = question
  requireInRange('frequencyHz', frequencyHz, { ...wallChartHz, unit: 'Hz' })
  const { free, walled, wallZM } = wallField(question)
  const { across, along } = planCells
  const alike = sideGapM === null
  const grid: PlanGrid = {
    xMinM: alike ? 0 : -wallPlanM.halfWidth,
    xMaxM: wallPlanM.halfWidth,
    zMinM: wallZM,
    zMaxM: wallZM + wallPlanM.forward,
    columns: alike ? (across + 1) / 2 : across,
    rows: along,
    heightM: earHeightM,
  }
  const line = {
    index: 0,
    nominalHz: frequencyHz,
    centreHz: frequencyHz,
    lowerHz: frequencyHz * 0.999,
    upperHz: frequencyHz * 1.001,
  }
  const levels = planLevelReFrontDb(walled, grid, line, { linesPerBand: 1, reference: free }) as PlanLevels
  if (!alike) return { columns: across, rows: along, ...levels }
  const half = grid.columns - 1
  const levelDb = new Float32Array(across * along)
  const inside = new Uint8Array(across * along)
  for (let row = 0; row < along; row++) {
    for (let column = 0; column < across; column++) {
      const from = row * grid.columns + Math.abs(column - half)
      levelDb[row * across + column] = levels.levelDb[from] as number
      inside[row * across + column] = levels.inside[from] as number
    }
  }
  return { columns: across, rows: along, levelDb, inside }
}

export type WallResponseQuestion = Omit<WallQuestion, 'frequencyHz' | 'referenceDbA'> & {
  /** Two places with the wall, or the place in front with the wall and without. */
  compare: 'places' | 'wall'
  sampleRateHz: number
  length: number
}

/** Start of a response before the direct sound, s, as in the walk-round. */
const leadS = 0.006

/**
 * The impulse responses that the sound is rendered with, 0 dB = the passband in front without the wall. 'places': between box
 * and wall, and in front. 'wall': in front with the wall, and without it.
 *
 * @throws RangeError as wallAnswer
 */
export function wallResponses(question: WallResponseQuestion): { here: Float32Array; front: Float32Array } {
  const { gapM, frontM, fromWallM, compare, sampleRateHz, length } = question
  requireInRange('frontM', frontM, { ...wallRange.frontM, unit: 'm' })
  requireInRange('fromWallM', fromWallM, { min: 0, max: requireInRange('gapM', gapM, gapRange), unit: 'm' })
  const field = wallField(question)
  const places = placesOf({ ...question, frequencyHz: 0 }, field)
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / length, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const front = arrivalsAt(field, places.front, knotsHz)
  const gain = amplitudeRatio(-passbandDb(thirdOctavesDb(front.without, front.spreadS)))
  const response = (transfer: (frequencyHz: number) => Complex) =>
    impulseResponse(
      (frequencyHz) => multiply(transfer(frequencyHz), fromPolar(gain, -2 * Math.PI * frequencyHz * leadS)),
      { sampleRateHz, length },
    )
  return compare === 'wall'
    ? { here: response(front.both), front: response(front.without) }
    : { here: response(arrivalsAt(field, places.rear, knotsHz).both), front: response(front.both) }
}
