import {
  type Air,
  amplitudeLevelDb,
  amplitudeRatio,
  bandLevelsDb,
  type DistanceDatum,
  fromPolar,
  frontPlaceAtSameDistance,
  frontTable,
  groupLevelDb,
  impulseResponse,
  interpolatedTransfer,
  type ListeningPlace,
  magnitude,
  measuredDistanceM,
  multiply,
  type PlanGrid,
  type PlanLevels,
  type PlanPressure,
  type Point,
  placePoint,
  planGridPoint,
  planLevelReFrontDb,
  planWavesReFront,
  type Rig,
  type RigField,
  sphereCabinetTrustedHz,
  transferKnotsHz,
  type WalledField,
  walledField,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { aWeightedAtReferenceDb, freeField } from '../../scene/free-field.ts'
import { hallResponses } from '../../scene/hall-responses.ts'
import type { HallDesign } from '../../scene/hall-scene.ts'
import { type Heard, heard, heardBands } from '../../scene/heard.ts'
import { isInRoom, roomAround } from '../../scene/room.ts'
import { bassHz, earHeightM, loudestDbA, quietestDbA, trebleHz, usualDbA, walkBands } from '../../scene/scene-terms.ts'
import { solvedToHz, wayCabinet } from '../../scene/solved-gear.ts'
import { wallZM } from '../../scene/wall-place.ts'
import { levelsAt as hallLevelsAt, sceneOf as hallSceneOf, type PartsScene } from '../hall/hall-parts.ts'

/** Where the rig stands: in free air, in front of a hard wall so far behind its rearmost face, m, or in a hall at rigInHall. */
export type Surroundings = { kind: 'outdoors' } | { kind: 'wall'; wallM: number } | { kind: 'hall'; design: HallDesign }

/** One rig and one place beside it. */
export type WalkQuestion = InAir & {
  rig: Rig
  place: ListeningPlace
  /** From where the distance is measured. */
  datum: DistanceDatum
  /** How loud pink noise is where the rig is set flat, dB(A), quietestDbA … loudestDbA; usualDbA unless given. */
  referenceDbA?: number
  /** Outdoors unless given. */
  surroundings?: Surroundings
}

/** Here against the front at the same measured distance. */
export type WalkComparison = {
  /** Distance as measured, m. */
  distanceM: number
  /** The front place that it is compared with. */
  frontPlace: ListeningPlace
  /** Third-octave levels (walkBands), dB re the front's mean over 100 Hz–10 kHz outdoors. */
  hereDb: number[]
  frontDb: number[]
  /** Differences here minus front, dB: bass group, treble group. */
  bassDb: number
  trebleDb: number
  /** Whether every cabinet has been solved by boundary elements; else the closed form of a sphere stands in. */
  solved: boolean
  /** Lowest frequency, Hz, from which what goes behind the rig is an estimate. */
  estimateFromHz: number
  /** What the ear makes of pink noise at either place, at the level of the question. */
  heard: { here: Heard; front: Heard }
  /** Part of every band's difference that is distance from the front face alone, dB. */
  pathDb: number
}

/** What a wall does to the level at one place against the same place without it: its deepest cut and its highest lift in the bass. */
export type WallEffect = { cutHz: number; cutDb: number; liftHz: number; liftDb: number }

/** The comparison by the chosen datum, and by the other one so that the page can say what the choice changes. */
export type WalkAnswer = WalkComparison & {
  /** With a wall behind the rig: what it does here and in front. */
  wall?: { here: WallEffect; front: WallEffect }
  /** In a hall: what the same comparison gives outdoors. */
  outdoors?: Pick<WalkComparison, 'bassDb' | 'trebleDb'>
  byOtherDatum: Pick<WalkComparison, 'distanceM' | 'bassDb' | 'trebleDb' | 'pathDb'>
}

/** Compares a place with the front: levels by band, and the differences that the sentence names. Throws RangeError for a place inside a cabinet. */
export function walkAnswer(question: WalkQuestion): WalkAnswer {
  const { rig, place, datum, referenceDbA = usualDbA, surroundings = outdoors } = question
  requireReferenceLevel(referenceDbA)
  const scene = sceneOf(rig, surroundings, airOf(question.air))
  const hereLevels = levelsAt(scene, place)
  const { levels, ...comparison } = compare(scene, place, datum, hereLevels)
  const otherDatum = datum === 'front-face' ? 'nearest-face' : 'front-face'
  const { distanceM, bassDb, trebleDb, pathDb } = compare(scene, place, otherDatum, hereLevels)
  const liftDb = referenceDbA - aWeightedAtReferenceDb(scene.free)
  const field = scene.hall ? 'diffuse' : 'free'
  const lifted = (levelsDb: Float64Array) =>
    heard(
      levelsDb.map((level) => level + liftDb),
      field,
    ).heard
  return {
    ...comparison,
    heard: { here: lifted(levels.here), front: lifted(levels.front) },
    byOtherDatum: { distanceM, bassDb, trebleDb, pathDb },
    ...(scene.walled && {
      wall: { here: wallEffect(scene, place), front: wallEffect(scene, comparison.frontPlace) },
    }),
    ...(scene.hall && { outdoors: outdoorsDifference(scene, place, datum) }),
  }
}

/** The specific loudness at both places, for the picture of how the loudness adds up. */
export type LoudnessPattern = {
  heard: { here: Heard; front: Heard }
  /** Sone/Bark at 0.1, 0.2 … 24.0 Bark. */
  specific: { here: Float64Array; front: Float64Array }
}

/** How the loudness of pink noise adds up over the critical bands, here and in front. Errors as walkAnswer. */
export function walkLoudness(question: WalkQuestion): LoudnessPattern {
  const { rig, place, datum, referenceDbA = usualDbA, surroundings = outdoors } = question
  requireReferenceLevel(referenceDbA)
  const scene = sceneOf(rig, surroundings, airOf(question.air))
  const { levels } = compare(scene, place, datum, levelsAt(scene, place))
  const liftDb = referenceDbA - aWeightedAtReferenceDb(scene.free)
  const [here, front] = [levels.here, levels.front].map((level) => heard(level.map((dB) => dB + liftDb))) as [
    ReturnType<typeof heard>,
    ReturnType<typeof heard>,
  ]
  return {
    heard: { here: here.heard, front: front.heard },
    specific: { here: here.specific, front: front.specific },
  }
}

function outdoorsDifference({ rig, air }: Scene, place: ListeningPlace, datum: DistanceDatum) {
  const scene = sceneOf(rig, outdoors, air)
  const { bassDb, trebleDb } = compare(scene, place, datum, levelsAt(scene, place))
  return { bassDb, trebleDb }
}

const requireReferenceLevel = (referenceDbA: number): number =>
  requireInRange('referenceDbA', referenceDbA, { min: quietestDbA, max: loudestDbA, unit: 'dB(A)' })

type Levels = { here: Float64Array; front: Float64Array }

/** A rig where it stands: `field` is what arrives, `free` the same rig outdoors. */
type Scene = { rig: Rig; air: Air; free: RigField; field: RigField; walled?: WalledField; hall?: PartsScene }

const outdoors: Surroundings = { kind: 'outdoors' }

/** A rig in its surroundings. Throws RangeError for a wall out of range. */
function sceneOf(rig: Rig, surroundings: Surroundings, air: Air): Scene {
  const free = freeField(rig, air)
  if (surroundings.kind === 'outdoors') return { rig, air, free, field: free }
  if (surroundings.kind === 'hall')
    return { rig, air, free, field: free, hall: hallSceneOf(rig, surroundings.design, air) }
  const walled = walledField(free, [
    {
      point: { xM: 0, yM: 0, zM: wallZM(rig, surroundings.wallM) },
      normal: { xM: 0, yM: 0, zM: 1 },
      absorption: () => 0,
    },
  ])
  return { rig, air, free, field: walled, walled }
}

/** Lines in a third octave: reflections put dips into it that a few lines would miss. */
const linesPerBand = { free: 8, walled: 24 }

/** Levels of heardBands at a place, as the transfer function gives them. */
function levelsAt({ field, walled, hall }: Scene, place: ListeningPlace): Float64Array {
  const point = placePoint(place, earHeightM)
  if (hall) {
    if (!field.isOpen(point)) throw new RangeError('the place is inside a cabinet; allowed is any place outside it')
    return hallLevelsAt(hall, point).total
  }
  return bandLevelsDb(
    (frequencyHz) => field.transferAt(point, frequencyHz),
    heardBands,
    walled ? linesPerBand.walled : linesPerBand.free,
  )
}

/** Where a wall's effect is looked for: from the lowest band up to where a dip is no longer bass, in steps of 1/24 octave. */
const wallLinesHz = Array.from({ length: 81 }, (_, step) => 31.5 * 2 ** (step / 24))

function wallEffect({ free, field }: Scene, place: ListeningPlace): WallEffect {
  const point = placePoint(place, earHeightM)
  const effect: WallEffect = { cutHz: 0, cutDb: 0, liftHz: 0, liftDb: 0 }
  for (const frequencyHz of wallLinesHz) {
    const levelDb = amplitudeLevelDb(
      magnitude(field.transferAt(point, frequencyHz)) / magnitude(free.transferAt(point, frequencyHz)),
    )
    if (levelDb < effect.cutDb) Object.assign(effect, { cutHz: frequencyHz, cutDb: levelDb })
    if (levelDb > effect.liftDb) Object.assign(effect, { liftHz: frequencyHz, liftDb: levelDb })
  }
  return effect
}

/** The comparison but for the ear's part, and the levels that it comes from. */
function compare(
  scene: Scene,
  place: ListeningPlace,
  datum: DistanceDatum,
  hereLevels: Float64Array,
): Omit<WalkComparison, 'heard'> & { levels: Levels } {
  const { rig, air } = scene
  const frontPlace = frontPlaceAtSameDistance(place, rig, datum)
  const levels = { here: hereLevels, front: levelsAt(scene, frontPlace) }
  const shown = heardBands.length - walkBands.length
  const [here, front] = [levels.here.subarray(shown), levels.front.subarray(shown)]
  const zeroDb = passbandLevelDb(
    scene.walled || scene.hall
      ? levelsAt({ rig, air, free: scene.free, field: scene.free }, frontPlace).subarray(shown)
      : front,
  )
  const group = (levels: Float64Array, { from, to }: { from: number; to: number }) =>
    groupLevelDb(levels, walkBands, from, to)
  return {
    levels,
    distanceM: measuredDistanceM(place, rig, datum),
    frontPlace,
    hereDb: Array.from(here, (level) => level - zeroDb),
    frontDb: Array.from(front, (level) => level - zeroDb),
    bassDb: group(here, bassHz) - group(front, bassHz),
    trebleDb: group(here, trebleHz) - group(front, trebleHz),
    solved: rig.cabinets.every((cabinet) => cabinet.ways.every((way) => solvedToHz(wayCabinet(cabinet, way)) > 0)),
    estimateFromHz: rearEstimateFromHz(rig, air),
    pathDb: amplitudeLevelDb(frontPlace.distanceM / place.distanceM),
  }
}

/** Where the first way leaves, within its own band, what its model is trusted with: boundary elements, or the sphere's kR = 5. */
function rearEstimateFromHz(rig: Rig, air: Air): number {
  const limits = rig.cabinets.flatMap((cabinet) =>
    cabinet.ways.map((way) => {
      const box = wayCabinet(cabinet, way)
      const trustedHz = solvedToHz(box, air) || sphereCabinetTrustedHz(box, air)
      const fromHz = Math.max(trustedHz, way.highPass?.frequencyHz ?? 0)
      return fromHz < (way.lowPass?.frequencyHz ?? Number.POSITIVE_INFINITY) ? fromHz : Number.POSITIVE_INFINITY
    }),
  )
  return Math.min(...limits)
}

/** Mean level per band over 100 Hz–10 kHz: the zero line of the spectrum. */
function passbandLevelDb(levels: Float64Array): number {
  const inside = walkBands.filter((band) => band.nominalHz >= 100 && band.nominalHz <= 10000).length
  return groupLevelDb(levels, walkBands, 100, 10000) - 10 * Math.log10(inside)
}

/** What a picture of the plan shows: waves at one frequency, or levels in one third octave. */
export type PictureQuestion = InAir & {
  rig: Rig
  grid: PlanGrid
  frequencyHz: number
  kind: 'waves' | 'levels'
  surroundings?: Surroundings
}

/** Index = row × columns + column, as in the grid; `inside` is 1 where nobody can be. Both are re the front at the same distance, outdoors. */
export type Picture =
  | ({ kind: 'waves'; columns: number; rows: number } & PlanPressure)
  | ({ kind: 'levels'; columns: number; rows: number } & PlanLevels)

/** Computes a picture of the plan re the front at the same distance. */
export function planPicture(question: PictureQuestion): Picture {
  const { rig, grid, frequencyHz, kind, surroundings = outdoors } = question
  const { field, free, hall } = sceneOf(rig, surroundings, airOf(question.air))
  const { columns, rows } = grid
  if (hall) return hallPicture(hall, grid, frequencyHz)
  if (kind === 'levels') {
    const band = walkBands.find(({ nominalHz }) => nominalHz === frequencyHz)
    if (!band)
      throw new RangeError(`frequencyHz is ${frequencyHz}; allowed is a nominal third octave from 31.5 to 16000 Hz`)
    return { kind, columns, rows, ...(planLevelReFrontDb(field, grid, band, { reference: free }) as PlanLevels) }
  }
  return { kind, columns, rows, ...planWavesReFront(field, grid, frequencyHz, free) }
}

/**
 * Levels in a hall at one frequency, re the front at the same distance outdoors: below the joining frequency with the hall's
 * resonances, above it as a third octave would have them.
 */
function hallPicture({ scene, free }: PartsScene, grid: PlanGrid, frequencyHz: number): Picture {
  const { columns, rows } = grid
  const room = roomAround(scene.hall)
  const frontDb = frontTable(free.rig, grid, (point) =>
    amplitudeLevelDb(magnitude(free.transferAt(point, frequencyHz))),
  )
  const levelDb = new Float32Array(columns * rows)
  const inside = new Uint8Array(columns * rows)
  for (let row = 0, index = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, index++) {
      const point = planGridPoint(grid, column, row)
      if (!free.isOpen(point) || !isInRoom(room, point)) {
        inside[index] = 1
        continue
      }
      const meanSquare = scene.levels.meanSquareAt(scene.toHall(point), frequencyHz, 'band')
      levelDb[index] = 10 * Math.log10(meanSquare) - frontDb(Math.hypot(point.xM, point.zM))
    }
  }
  return { kind: 'levels', columns, rows, levelDb, inside }
}

export type ResponseQuestion = WalkQuestion & { sampleRateHz: number; length: number }

/** Impulse responses here and in front, 0 dB = the front's passband, both with the same short start delay so that switching keeps time. */
export type Responses = { here: Float32Array; front: Float32Array }

/** Start of a response before the direct sound, s: room for the phase of crossover and box, and for what a band limit spreads to before the peak. */
const leadS = 0.006

/**
 * The impulse responses that the sound is rendered with, from the same transfer functions as the spectrum. The travel
 * time is taken out, but for a short lead, and the transfer function is interpolated between knots: computed at every
 * line of the transform it would take four times as long. Each image of a wall is interpolated by itself, without its own
 * travel time, since the sum of all is too rough for that.
 */
export function walkResponses(question: ResponseQuestion): Responses {
  const { rig, place, datum, sampleRateHz, length, surroundings = outdoors } = question
  const { air, free, walled } = sceneOf(rig, surroundings, airOf(question.air))
  const frontPlace = frontPlaceAtSameDistance(place, rig, datum)
  const front = placePoint(frontPlace, earHeightM)
  if (surroundings.kind === 'hall') {
    const here = placePoint(place, earHeightM)
    const hall = surroundings.design
    return hallResponses({ rig, hall, place: here, front, compare: 'places', sampleRateHz, air: question.air })
  }
  const frontLevels = bandLevelsDb((frequencyHz) => free.transferAt(front, frequencyHz), walkBands)
  const gain = amplitudeRatio(-passbandLevelDb(frontLevels))
  const knotsHz = transferKnotsHz({ fineStepHz: sampleRateHz / length, widestStepHz: 24, toHz: sampleRateHz / 2 })
  const response = (listener: Point) => {
    const directM = Math.hypot(listener.xM, listener.zM)
    const arrivals = (walled?.images ?? [{ mirrored: (point: Point) => point }]).map(({ mirrored }, index) => {
      const place = mirrored(listener)
      const distanceM = Math.hypot(place.xM, place.zM)
      const early = interpolatedTransfer((frequencyHz) => {
        const factor = walled ? (walled.factors(Math.max(1, frequencyHz))[index] as number) : 1
        const ahead = fromPolar(gain * factor, (2 * Math.PI * frequencyHz * distanceM) / air.speedOfSoundMps)
        return multiply(free.transferAt(place, frequencyHz), ahead)
      }, knotsHz)
      return { early, delayS: leadS + (distanceM - directM) / air.speedOfSoundMps }
    })
    return impulseResponse(
      (frequencyHz) => {
        let re = 0
        let im = 0
        for (const { early, delayS } of arrivals) {
          const arrival = multiply(early(frequencyHz), fromPolar(1, -2 * Math.PI * frequencyHz * delayS))
          re += arrival.re
          im += arrival.im
        }
        return { re, im }
      },
      { sampleRateHz, length },
    )
  }
  return { here: response(placePoint(place, earHeightM)), front: response(front) }
}
