import {
  type Air,
  amplitudeLevelDb,
  type DistanceDatum,
  frontPlaceAtSameDistance,
  groupLevelDb,
  type ListeningPlace,
  magnitude,
  measuredDistanceM,
  placePoint,
  type Rig,
  sphereCabinetTrustedHz,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf } from '../../scene/air.ts'
import { liftDb, passbandDb } from '../../scene/free-field.ts'
import { type Heard, heard } from '../../scene/heard.ts'
import type { PlaceQuestion } from '../../scene/place-question.ts'
import { earHeightM, farthestWallM, nearestWallM } from '../../scene/scene-terms.ts'
import { solvedToHz, wayCabinet, waySolves } from '../../scene/solved-gear.ts'
import { inFreeAir, levelsAt, type StandingRig, standingRig } from '../../scene/standing-rig.ts'
import type { Surroundings } from '../../scene/surroundings.ts'
import { bassHz, heardBands, spectrumOf, trebleHz } from '../../scene/third-octaves.ts'

/** One rig and one place beside it. */
export type WalkQuestion = PlaceQuestion & {
  /** In free air unless given; a wall behind is nearestWallM … farthestWallM away. */
  surroundings?: Surroundings
}

/** Here against the front at the same measured distance. */
export type WalkComparison = {
  /** Distance as measured, m. */
  distanceM: number
  /** The front place that it is compared with. */
  frontPlace: ListeningPlace
  /** Third-octave levels (spectrumBands), dB re the front's mean over 100 Hz–10 kHz outdoors. */
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

/** What a wall or the ground does to the level at one place against the same place without it: its deepest cut and its highest lift in the bass. */
export type WallEffect = { cutHz: number; cutDb: number; liftHz: number; liftDb: number }

/** The comparison by the chosen datum, and by the other one so that the page can say what the choice changes. */
export type WalkAnswer = WalkComparison & {
  /** With a wall behind the rig or ground under it: what that does here and in front. */
  wall?: { here: WallEffect; front: WallEffect }
  /** In a hall: what the same comparison gives outdoors. */
  outdoors?: Pick<WalkComparison, 'bassDb' | 'trebleDb'>
  byOtherDatum: Pick<WalkComparison, 'distanceM' | 'bassDb' | 'trebleDb' | 'pathDb'>
}

/** Compares a place with the front: levels by band, and the differences that the sentence names. Throws RangeError for a place inside a cabinet. */
export function walkAnswer(question: WalkQuestion): WalkAnswer {
  const { rig, place, datum } = question
  const standing = walkScene(question)
  const here = levelsOf(standing, place)
  const { levels, ...comparison } = compare(standing, place, datum, here)
  const otherDatum = datum === 'front-face' ? 'nearest-face' : 'front-face'
  const { distanceM, bassDb, trebleDb, pathDb } = compare(standing, place, otherDatum, here)
  const { frontPlace } = comparison
  return {
    ...comparison,
    solved: rig.cabinets.every((cabinet) =>
      cabinet.ways.every((way) => waySolves(cabinet, way).every((box) => solvedToHz(box) > 0)),
    ),
    estimateFromHz: rearEstimateFromHz(rig, standing.air),
    heard: heardIn(standing, levels, question).heard,
    byOtherDatum: { distanceM, bassDb, trebleDb, pathDb },
    ...(standing.walled && { wall: { here: wallEffect(standing, place), front: wallEffect(standing, frontPlace) } }),
    ...(standing.hall && { outdoors: outdoorsDifference(standing, place, datum) }),
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
  const { rig, place, datum } = question
  const standing = walkScene(question)
  const frontPlace = frontPlaceAtSameDistance(place, rig, datum)
  return heardIn(standing, { here: levelsOf(standing, place), front: levelsOf(standing, frontPlace) }, question)
}

/** A rig where the question has it. Throws RangeError for surroundings out of range. */
export function walkScene({ rig, surroundings = { kind: 'outdoors' }, air }: WalkScene): StandingRig {
  if (surroundings.kind === 'wall') {
    requireInRange('gapM', surroundings.gapM, { min: nearestWallM, max: farthestWallM, unit: 'm' })
  }
  return standingRig(rig, surroundings, airOf(air))
}

export type WalkScene = Pick<WalkQuestion, 'rig' | 'surroundings' | 'air'>

type Levels = { here: Float64Array; front: Float64Array }

const levelsOf = (standing: StandingRig, place: ListeningPlace) => levelsAt(standing, placePoint(place, earHeightM))

/** What the ear makes of pink noise at both places, at the level of the question: in a hall sound comes from all sides. */
function heardIn(
  { free, hall }: StandingRig,
  { here, front }: Levels,
  { referenceDbA }: Pick<WalkQuestion, 'referenceDbA'>,
): LoudnessPattern {
  const lift = liftDb(free, referenceDbA)
  const lifted = (levels: Float64Array) =>
    heard(
      levels.map((level) => level + lift),
      hall ? 'diffuse' : 'free',
    )
  const [atPlace, inFront] = [lifted(here), lifted(front)]
  return {
    heard: { here: atPlace.heard, front: inFront.heard },
    specific: { here: atPlace.specific, front: inFront.specific },
  }
}

function outdoorsDifference(standing: StandingRig, place: ListeningPlace, datum: DistanceDatum) {
  const free = inFreeAir(standing)
  const { bassDb, trebleDb } = compare(free, place, datum, levelsOf(free, place))
  return { bassDb, trebleDb }
}

/** Where a wall's effect is looked for: from the lowest band up to where a dip is no longer bass, in steps of 1/24 octave. */
const wallLinesHz = Array.from({ length: 81 }, (_, step) => 31.5 * 2 ** (step / 24))

function wallEffect({ free, field }: StandingRig, place: ListeningPlace): WallEffect {
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

/** The comparison of levels alone, and the levels that it comes from. */
function compare(
  standing: StandingRig,
  place: ListeningPlace,
  datum: DistanceDatum,
  here: Float64Array,
): Omit<WalkComparison, 'heard' | 'solved' | 'estimateFromHz'> & { levels: Levels } {
  const { rig, walled, hall } = standing
  const frontPlace = frontPlaceAtSameDistance(place, rig, datum)
  const front = levelsOf(standing, frontPlace)
  const zeroDb = passbandDb(walled || hall ? levelsOf(inFreeAir(standing), frontPlace) : front)
  const shown = (levels: Float64Array) => Array.from(spectrumOf(levels), (level) => level - zeroDb)
  const difference = ({ from, to }: { from: number; to: number }) =>
    groupLevelDb(here, heardBands, from, to) - groupLevelDb(front, heardBands, from, to)
  return {
    levels: { here, front },
    distanceM: measuredDistanceM(place, rig, datum),
    frontPlace,
    hereDb: shown(here),
    frontDb: shown(front),
    bassDb: difference(bassHz),
    trebleDb: difference(trebleHz),
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
