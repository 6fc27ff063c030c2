// Tests of known truth with two microphones: what loudspeaker, distance and walls make, and what is told of it.
import type { DetailEstimates } from '../../../../src/acoustics/measuring/detail-difference.ts'
import type { BandEstimates, Estimate } from '../../../../src/acoustics/measuring/estimate.ts'
import { levelDifference } from '../../../../src/acoustics/measuring/level-difference.ts'
import { detailBands, recordingBands } from '../../../../src/acoustics/measuring/recording-bands.ts'
import {
  type ComparedGeometry,
  type ReflectionPath,
  reflectionPaths,
} from '../../../../src/acoustics/measuring/reflection-paths.ts'
import { type Verdict, type VerdictCase, verdict } from '../../../../src/acoustics/measuring/verdict.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { gaussian } from './noise.ts'

export const air = makeAir({ temperatureC: 20, relativeHumidityPct: 50 })
export const ranges = {
  bass: { from: 40, to: 160 },
  middle: { from: 200, to: 1600 },
  treble: { from: 2000, to: 16000 },
}

/** A case of known truth: what the loudspeaker sends behind, where things stand, and which ways there really are. */
export type Truth = {
  geometry: ComparedGeometry
  /** Front less behind of the loudspeaker alone: in the bass, and at 8 kHz. */
  bassDb: number
  trebleDb: number
  ways: (ReflectionPath & { factor: number })[]
  seconds: number
}

const powerAt = (truth: Truth, place: 'front' | 'behind', frequencyHz: number): number => {
  const { distanceM } = truth.geometry[place]
  // From 200 Hz up a box sends less and less behind.
  const rise = Math.max(0, Math.min(1, Math.log2(frequencyHz / 200) / Math.log2(8000 / 200)))
  const lessDb = truth.bassDb + (truth.trebleDb - truth.bassDb) * rise
  let [re, im] = [1, 0]
  for (const { place: at, extraM, directM, factor } of truth.ways) {
    if (at !== place) continue
    const phase = (2 * Math.PI * frequencyHz * extraM) / air.speedOfSoundMps
    re += ((factor * directM) / (directM + extraM)) * Math.cos(phase)
    im -= ((factor * directM) / (directM + extraM)) * Math.sin(phase)
  }
  return ((re * re + im * im) / distanceM ** 2) * 10 ** ((place === 'front' ? 0 : -lessDb) / 10)
}

const meanPower = (truth: Truth, place: 'front' | 'behind', lowerHz: number, upperHz: number): number => {
  const steps = 16
  let sum = 0
  for (let n = 0; n < steps; n++)
    sum += powerAt(truth, place, lowerHz * (upperHz / lowerHz) ** ((n + 0.5) / steps)) / steps
  return sum
}

/** What would be measured of it in so many seconds of noise. */
export function measured(truth: Truth, seed: number): Pick<VerdictCase, 'bands' | 'detail'> {
  const next = gaussian(seed)
  const estimate = (power: number, widthHz: number): Estimate => {
    const errorDb = 4.343 / Math.sqrt(Math.max(1, widthHz * truth.seconds))
    return { levelDb: 10 * Math.log10(power) + errorDb * next(), errorDb, freedom: truth.seconds }
  }
  const levels = (place: 'front' | 'behind'): BandEstimates =>
    recordingBands.map(({ lowerHz, upperHz }) => estimate(meanPower(truth, place, lowerHz, upperHz), upperHz - lowerHz))
  const detail: DetailEstimates = detailBands.map(({ lowerHz, upperHz }) => {
    const front = estimate(meanPower(truth, 'front', lowerHz, upperHz), upperHz - lowerHz)
    const behind = estimate(meanPower(truth, 'behind', lowerHz, upperHz), upperHz - lowerHz)
    return {
      levelDb: front.levelDb - behind.levelDb,
      errorDb: Math.hypot(front.errorDb, behind.errorDb),
      freedom: truth.seconds,
    }
  })
  return {
    bands: levelDifference({ front: { levels: levels('front') }, behind: { levels: levels('behind') } }),
    detail,
  }
}

/** The true difference in the bass, and how much of it comes from distance, from reflections and from the loudspeaker. */
export function trueParts(truth: Truth): { allDb: number; distanceDb: number; reflectionDb: number; ownDb: number } {
  const sum = (of: Truth, place: 'front' | 'behind') =>
    recordingBands
      .filter(({ nominalHz }) => nominalHz >= 40 && nominalHz <= 160)
      .reduce((total, { lowerHz, upperHz }) => total + meanPower(of, place, lowerHz, upperHz), 0)
  const differenceDb = (of: Truth) => 10 * Math.log10(sum(of, 'front') / sum(of, 'behind'))
  const allDb = differenceDb(truth)
  const withoutDb = differenceDb({ ...truth, ways: [] })
  const distanceDb = 20 * Math.log10(truth.geometry.behind.distanceM / truth.geometry.front.distanceM)
  return { allDb, distanceDb, reflectionDb: allDb - withoutDb, ownDb: withoutDb - distanceDb }
}

/** Whether what is said is true, apart from 'cannot tell'. */
export function isTrue({ bassCause }: Verdict, truth: Truth): boolean {
  const { allDb, distanceDb, reflectionDb, ownDb } = trueParts(truth)
  const beyondDb = allDb - distanceDb
  if (bassCause === 'hardly-any') return Math.abs(allDb) <= 3 && Math.abs(beyondDb) <= 3
  if (bassCause === 'distance') return Math.abs(allDb) > 3 && Math.abs(ownDb) <= 3 && Math.abs(beyondDb) <= 3
  if (bassCause === 'reflection') return Math.abs(beyondDb) > 3 && Math.abs(ownDb) <= 3 && Math.abs(reflectionDb) > 1
  if (bassCause === 'really-more') return ownDb < -3
  if (bassCause === 'really-less') return ownDb > 3
  return true
}

export type Kind = 'same' | 'distance' | 'wall' | 'more' | 'less' | 'hidden-wall' | 'more-and-wall'
export const kinds: Kind[] = ['same', 'distance', 'wall', 'more', 'less', 'hidden-wall', 'more-and-wall']

/** A case of one kind, at random. */
export function caseOf(kind: Kind, seed: number): { truth: Truth; given: VerdictCase; told: Verdict } {
  const random = seededRandom(seed)
  const between = (from: number, to: number) => from + (to - from) * random()
  const frontM = between(2, 8)
  const isFar = kind === 'distance' || random() < 0.3
  const behindM = isFar ? frontM * (random() < 0.5 ? between(1.7, 2.6) : between(0.4, 0.6)) : frontM
  // Every third time the microphones stand on stands, and the floor adds its own.
  const heightM = random() < 0.33 ? between(1.1, 1.8) : 0
  const real: ComparedGeometry = {
    front: { distanceM: frontM, heightM },
    behind: { distanceM: behindM, heightM },
    sourceHeightM: between(0.5, 1.8),
    boxDepthM: between(0.4, 0.7),
  }
  const hasWall = kind === 'wall' || kind === 'hidden-wall' || kind === 'more-and-wall'
  if (hasWall) real.behind.wallBeyondM = between(0.15, random() < 0.6 ? 0.5 : 1.4)
  const ways = reflectionPaths(real)
    .filter(({ cause }) => cause !== 'box-depth')
    .map((path) => ({ ...path, factor: between(0.6, 0.9) }))
  const bassDb = kind.startsWith('more') ? between(-10, -6) : kind === 'less' ? between(6, 15) : between(-0.8, 0.8)
  const truth: Truth = { geometry: real, bassDb, trebleDb: between(10, 25), ways, seconds: between(30, 90) }
  // The tape is off by up to 2 cm.
  const tape = (length: number) => length + between(-0.02, 0.02)
  const entered: ComparedGeometry = {
    ...real,
    front: { ...real.front, distanceM: tape(frontM) },
    behind: { distanceM: tape(behindM), heightM },
  }
  if (real.behind.wallBeyondM !== undefined && kind !== 'hidden-wall')
    entered.behind.wallBeyondM = tape(real.behind.wallBeyondM)
  const wallsAreEntered = kind !== 'hidden-wall'
  const given = { ...measured(truth, seed + 1000), geometry: entered, wallsAreEntered, ranges, air }
  return { truth, given, told: verdict(given) }
}

export const cases = Array.from({ length: 210 }, (_, i) => ({ seed: i + 1, kind: kinds[i % kinds.length] as Kind }))
