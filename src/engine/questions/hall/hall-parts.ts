import { distanceToFootprintM } from '../../../acoustics/field/footprint.ts'
import {
  type Air,
  amplitudeLevelDb,
  bandLevelsDb,
  type Complex,
  decayTimeS,
  groupLevelDb,
  hallField,
  joiningFrequencyHz,
  levelDb,
  magnitude,
  type PlanGrid,
  type PlanPoint,
  type Point,
  planGridPoint,
  planOfPressure,
  type Rig,
  type RigField,
  rigSources,
  squaredMagnitude,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { type AirState, airOf, type InAir } from '../../scene/air.ts'
import { aWeightedAtReferenceDb, freeField, passbandDb, voicedAt } from '../../scene/free-field.ts'
import { type HallDesign, type HallScene, hallOf, hallScene } from '../../scene/hall-scene.ts'
import { mapHz, partsBands, type SourcePlace } from '../../scene/hall-terms.ts'
import { type Heard, heard, heardBands } from '../../scene/heard.ts'
import { isInRoom, rigInHall, roomAround } from '../../scene/room.ts'
import { bassHz, earHeightM, loudestDbA, quietestDbA, trebleHz, usualDbA } from '../../scene/scene-terms.ts'
import { solvedModel, solvedRevision } from '../../scene/solved-gear.ts'

/** A rig in a hall and a listener at ear height, in the rig's coordinates. */
export type HallQuestion = InAir & {
  rig: Rig
  hall: HallDesign
  place: PlanPoint
  /** Nominal frequency of the third octave that is looked at, Hz. */
  bandHz: number
  /** How loud pink noise is where the rig is set flat, dB(A); usualDbA unless given. */
  referenceDbA?: number
}

/**
 * The sound at one place by third octave (partsBands), dB re the passband in front without the hall. `lateDb` is null in the bands
 * below lateFromHz, where reverberation cannot be told from the resonances that the sum of reflections makes.
 */
export type PlaceParts = { directDb: number[]; totalDb: number[]; lateDb: (number | null)[] }

/** What the sound in one band is made of, as shares of its energy; direct sound and early reflections may cancel in part. */
export type BandShares = {
  direct: number
  /** Early reflections; below lateFromHz all reflections. Never below 0. */
  early: number
  late: number
  /** Part of the sound that the hall brings, 0 … 1; null where direct sound and reflections cancel so that there is less than without a hall. */
  hall: number | null
  /** Level of the whole re the direct sound alone, dB. */
  gainDb: number
}

export type HallAnswer = {
  /** From the middle of the front face to the listener, m, and the place in front that it is compared with. */
  distanceM: number
  frontM: number
  joiningHz: number
  /** Lowest frequency from which the reverberant field is shown by itself, Hz. */
  lateFromHz: number
  here: PlaceParts
  front: PlaceParts
  shares: { here: BandShares; front: BandShares }
  /** Treble and bass here re the front, dB: in the hall, and by the direct sound alone. */
  trebleDb: number
  trebleDirectDb: number
  bassDb: number
  bassDirectDb: number
  /** Where direct and reverberant sound are equally strong in the band, m from the front face, every turnStepDeg to the right from straight ahead; null below lateFromHz. */
  equalM: number[] | null
  /** Decay time in the band, s. */
  decayS: number
  /** What the ear makes of pink noise, in a diffuse field; null if a third octave passes what the method takes. */
  heard: { here: Heard; front: Heard } | null
}

/** Step between the directions of equalM, degrees. */
export const turnStepDeg = 5

/** Lines in a third octave: resonances need many, the rest as in the free field. */
const linesPerBand = { resonances: 24, above: 8 }

/** How far the front place stays off the far wall, m. */
const offFarWallM = 0.5

/** Highest third-octave level that the loudness method takes, dB re 20 µPa. */
const highestBandDb = 120

/** A rig in a hall and in free air, ready to be asked. */
export type PartsScene = {
  scene: HallScene
  free: RigField
  /** Lowest frequency from which the reverberant field is told by itself, Hz. */
  lateFromHz: number
  /** Sums of images by frequency and damping, for the sound. */
  fields: Map<string, (listener: Point) => Complex>
}

const scenes = new Map<string, PartsScene>()

/** Scenes are kept: the power that a rig radiates, and the resonances, take seconds to work out. */
export function sceneOf(rig: Rig, design: HallDesign, air: Air): PartsScene {
  // With the solved cabinets at hand a rig's field is another one.
  const key = `${solvedRevision()} ${JSON.stringify([rig, design, air])}`
  let found = scenes.get(key)
  if (!found) {
    const scene = hallScene(rig, design, air, voicedAt)
    const lateFromHz = firstLateBandHz(scene.levels.joiningHz)
    found = { scene, free: freeField(rig, air), lateFromHz, fields: new Map() }
    if (scenes.size >= 6) scenes.delete(scenes.keys().next().value as string)
    scenes.set(key, found)
  }
  return found
}

/** Lower edge of the first third octave that lies wholly above the join of images and statistics, half an octave above the joining frequency. */
export function firstLateBandHz(joiningHz: number): number {
  const band = heardBands.find(({ lowerHz }) => lowerHz >= joiningHz * Math.SQRT2)
  if (!band) throw new RangeError(`joiningHz is ${joiningHz}; allowed is a frequency below the highest bands`)
  return band.lowerHz
}

/** @throws RangeError, in words for a reader, for a place outside the hall or inside a box */
export function requirePlace(rig: Rig, design: HallDesign, place: PlanPoint): PlanPoint {
  requireInRange('place.xM', place.xM, { unit: 'm' })
  requireInRange('place.zM', place.zM, { unit: 'm' })
  if (!isInRoom(roomAround(design), place)) {
    throw new RangeError(
      `the place ${Math.abs(place.zM).toFixed(1)} m ${place.zM < 0 ? 'behind' : 'before'} the front face and ${Math.abs(place.xM).toFixed(1)} m to the ${place.xM < 0 ? 'left' : 'right'} is outside the hall; allowed is any place within its walls`,
    )
  }
  if (rig.cabinets.some((cabinet) => distanceToFootprintM(cabinet, place) === 0))
    throw new RangeError('the place is inside a cabinet; allowed is any place outside it')
  return place
}

const atEars = ({ xM, zM }: PlanPoint): Point => ({ xM, yM: earHeightM, zM })

/** Levels of heardBands at one place: all of it, and the direct sound alone. */
type Levels = { total: Float64Array; direct: Float64Array }

/** Levels of heardBands of the direct sound alone. */
export const directLevelsDb = (free: RigField, place: PlanPoint): Float64Array =>
  bandLevelsDb((frequencyHz) => free.transferAt(atEars(place), frequencyHz), heardBands)

export function levelsAt({ scene, free, lateFromHz }: PartsScene, place: PlanPoint): Levels {
  const inHall = scene.toHall(atEars(place))
  const of = (lines: number, bands: typeof heardBands) => [...scene.levels.bandLevelsDb(inHall, bands, lines)]
  const low = heardBands.filter(({ lowerHz }) => lowerHz < lateFromHz)
  const high = heardBands.filter(({ lowerHz }) => lowerHz >= lateFromHz)
  return {
    total: Float64Array.from([...of(linesPerBand.resonances, low), ...of(linesPerBand.above, high)]),
    direct: directLevelsDb(free, place),
  }
}

/** The place straight in front as far from the front face, but within the hall. */
export function frontDistanceM(distanceM: number, design: HallDesign): number {
  return Math.min(distanceM, design.lengthM - rigInHall.zM - offFarWallM)
}

/**
 * Everything that the figure shows but for the map.
 *
 * @throws RangeError for a place in a box or outside the hall, a band that is none, a level, a size or an absorption out of range
 */
export function hallAnswer(question: HallQuestion): HallAnswer {
  const { rig, hall: design, bandHz, referenceDbA = usualDbA } = question
  requireInRange('referenceDbA', referenceDbA, { min: quietestDbA, max: loudestDbA, unit: 'dB(A)' })
  const bandIndex = partsBands.findIndex(({ nominalHz }) => nominalHz === bandHz)
  const band = partsBands[bandIndex]
  if (!band) throw new RangeError(`bandHz is ${bandHz}; allowed is a nominal third octave from 31.5 to 16000 Hz`)
  // Before the place, so that a hall of no size is not told as a place outside it.
  hallOf(design)
  const place = requirePlace(rig, design, question.place)
  const air = airOf(question.air)
  const parts = sceneOf(rig, design, air)
  const { scene, free, lateFromHz } = parts
  const distanceM = Math.hypot(place.xM, place.zM)
  const frontM = frontDistanceM(distanceM, design)
  const levels = { here: levelsAt(parts, place), front: levelsAt(parts, { xM: 0, zM: frontM }) }
  const zeroDb = passbandDb(levels.front.direct)
  const late = heardBands.map(({ lowerHz, centreHz }) =>
    lowerHz >= lateFromHz ? levelDb(scene.levels.lateMeanSquare(centreHz)) : null,
  )
  const shown = heardBands.length - partsBands.length
  const partsOf = ({ total, direct }: Levels): PlaceParts => ({
    totalDb: Array.from(total.subarray(shown), (level) => level - zeroDb),
    directDb: Array.from(direct.subarray(shown), (level) => level - zeroDb),
    lateDb: late.slice(shown).map((level) => level && level - zeroDb),
  })
  const sharesOf = ({ total, direct }: Levels): BandShares =>
    bandShares(
      10 ** ((total[shown + bandIndex] as number) / 10),
      10 ** ((direct[shown + bandIndex] as number) / 10),
      late[shown + bandIndex] ?? null,
    )
  const group = (range: { from: number; to: number }, of: keyof Levels) =>
    groupLevelDb(levels.here[of], heardBands, range.from, range.to) -
    groupLevelDb(levels.front[of], heardBands, range.from, range.to)
  return {
    distanceM,
    frontM,
    joiningHz: scene.levels.joiningHz,
    lateFromHz,
    here: partsOf(levels.here),
    front: partsOf(levels.front),
    shares: { here: sharesOf(levels.here), front: sharesOf(levels.front) },
    trebleDb: group(trebleHz, 'total'),
    trebleDirectDb: group(trebleHz, 'direct'),
    bassDb: group(bassHz, 'total'),
    bassDirectDb: group(bassHz, 'direct'),
    equalM: band.lowerHz >= lateFromHz ? equalDistancesM(parts, band.centreHz) : null,
    decayS: decayTimeS(scene.hall, band.centreHz, air),
    heard: heardIn(levels, referenceDbA - aWeightedAtReferenceDb(free)),
  }
}

function bandShares(total: number, direct: number, lateDb: number | null): BandShares {
  const late = lateDb === null ? 0 : 10 ** (lateDb / 10)
  const early = Math.max(0, total - late - direct)
  const sum = direct + early + late
  return {
    direct: direct / sum,
    early: early / sum,
    late: late / sum,
    hall: total > direct ? 1 - direct / total : null,
    gainDb: levelDb(total / direct),
  }
}

/** Search steps: the fall with distance is all but 1/r, so that a few suffice. */
const searchSteps = 4

/** In every direction the distance at ear height at which direct and reverberant sound are equally strong, m. */
function equalDistancesM({ scene, free }: PartsScene, frequencyHz: number): number[] {
  const late = scene.levels.lateMeanSquare(frequencyHz)
  return Array.from({ length: 360 / turnStepDeg }, (_, step) => {
    const angleRad = (step * turnStepDeg * Math.PI) / 180
    let distanceM = 2
    for (let round = 0; round < searchSteps; round++) {
      const point = { xM: distanceM * Math.sin(angleRad), yM: earHeightM, zM: distanceM * Math.cos(angleRad) }
      if (!free.isOpen(point)) break
      distanceM *= Math.sqrt(squaredMagnitude(free.transferAt(point, frequencyHz)) / late)
      distanceM = Math.max(0.05, Math.min(200, distanceM))
    }
    return distanceM
  })
}

function heardIn({ here, front }: Record<'here' | 'front', Levels>, liftDb: number): HallAnswer['heard'] {
  if (Math.max(...here.total, ...front.total) + liftDb > highestBandDb) return null
  const lifted = ({ total }: Levels) =>
    heard(
      total.map((level) => level + liftDb),
      'diffuse',
    ).heard
  return { here: lifted(here), front: lifted(front) }
}

/** The map of one frequency: the rig may stand elsewhere than usual. */
export type HallMapQuestion = InAir & {
  rig: Rig
  hall: HallDesign
  frequencyHz: number
  source: SourcePlace
}

/** Nearer to a box than this, its own sound is what counts, m. */
const besideBoxM = 1.5

/** Where the loudest place of a map lies, not counting what is right beside the box. */
export type LoudestPlace =
  | 'corner-behind'
  | 'corner-opposite'
  | 'wall-behind'
  | 'wall-opposite'
  | 'wall-side'
  | 'inside'

/** Levels re the loudest place of the plan that is not beside the box; rows from the wall behind forward. */
export type HallMap = {
  columns: number
  rows: number
  levelDb: Float32Array
  inside: Uint8Array
  /** The loudest place re 4 m in front of the rig outdoors at this frequency, dB, and where it is. */
  loudestDb: number
  loudest: LoudestPlace
  loudestAt: PlanPoint
  /** Mean over the plan, in energy, and the quietest place, dB re the loudest. */
  meanDb: number
  quietestDb: number
  /** Where the front face of the rig stands, in its usual coordinates. */
  sourceAt: PlanPoint
}

/** Cells of a map. The longer the wave the fewer are needed, and the more images each of them takes. */
const mapCells = { most: 1500, fewest: 450, mostFromHz: 40 }

/** How far the picture's outermost cells lie off the walls, m. */
const mapInsetM = 0.05

/** The grid of a hall's map at a frequency, in the rig's coordinates, its cells as good as square. */
export function mapGrid(design: HallDesign, frequencyHz: number): PlanGrid {
  const room = roomAround(design)
  const cells = Math.max(mapCells.fewest, mapCells.most * Math.min(1, (frequencyHz / mapCells.mostFromHz) ** 3))
  const perM = Math.sqrt(cells / (design.lengthM * design.widthM))
  return {
    xMinM: room.xMinM + mapInsetM,
    xMaxM: room.xMaxM - mapInsetM,
    zMinM: room.zMinM + mapInsetM,
    zMaxM: room.zMaxM - mapInsetM,
    columns: Math.max(9, Math.round(perM * design.widthM)),
    rows: Math.max(9, Math.round(perM * design.lengthM)),
    heightM: earHeightM,
  }
}

/** The rig's front in the hall's coordinates for each of the places that it may stand at. */
export function sourceInHall(source: SourcePlace, rig: Rig, { widthM }: HallDesign): Point {
  if (source === 'usual') return rigInHall
  const deepM = Math.max(...rig.cabinets.map(({ depthM, frontCentre }) => depthM - frontCentre.zM))
  const halfM = Math.max(...rig.cabinets.map((cabinet) => cabinet.widthM / 2 + Math.abs(cabinet.frontCentre.xM)))
  const offWallM = 0.1
  const zM = deepM + offWallM
  return source === 'corner' ? { xM: -widthM / 2 + halfM + offWallM, yM: 0, zM } : { xM: 0, yM: 0, zM }
}

/**
 * The level over the plan at one frequency, with all resonances.
 *
 * @throws RangeError for a frequency outside 30 … 120 Hz, or as hallAnswer
 */
export function hallMap({ rig, hall: design, frequencyHz, source, air: state }: HallMapQuestion): HallMap {
  const air = airOf(state)
  requireInRange('frequencyHz', frequencyHz, { min: mapHz.min, max: mapHz.max, unit: 'Hz' })
  const hall = hallOf(design)
  const at = sourceInHall(source, rig, design)
  const pressureAt = hallField(
    rigSources(rig, air, solvedModel, { position: at, yawRad: 0 }, voicedAt),
    hall,
    frequencyHz,
    air,
  )
  const grid = mapGrid(design, frequencyHz)
  const sourceAt = { xM: at.xM - rigInHall.xM, zM: at.zM - rigInHall.zM }
  const offBoxM = ({ xM, zM }: PlanPoint) => {
    const place = { xM: xM - sourceAt.xM, zM: zM - sourceAt.zM }
    return Math.min(...rig.cabinets.map((cabinet) => distanceToFootprintM(cabinet, place)))
  }
  const picture = planOfPressure(
    ({ xM, yM, zM }) => pressureAt({ xM: xM + rigInHall.xM, yM, zM: zM + rigInHall.zM }),
    grid,
    { leftOut: (point) => offBoxM(point) === 0 },
  )
  if (!picture) throw new Error('the map was stopped')
  const { re, im, inside } = picture
  const squares = Float64Array.from(re, (value, index) => value * value + (im[index] as number) ** 2)
  const pointOf = (index: number) => planGridPoint(grid, index % grid.columns, Math.floor(index / grid.columns))
  const open = [...squares.keys()].filter((index) => offBoxM(pointOf(index)) > besideBoxM)
  const loudestIndex = open.reduce((best, next) =>
    (squares[next] as number) > (squares[best] as number) ? next : best,
  )
  const loudest = squares[loudestIndex] as number
  const loudestPoint = pointOf(loudestIndex)
  const referenceDb = amplitudeLevelDb(magnitude(freeField(rig, air).transferAt(voicedAt, frequencyHz)))
  const relative = (square: number) => levelDb(Math.max(square / loudest, 1e-12))
  return {
    columns: grid.columns,
    rows: grid.rows,
    levelDb: Float32Array.from(squares, (square, index) => (inside[index] ? 0 : relative(square))),
    inside,
    loudestDb: levelDb(loudest) - referenceDb,
    loudest: whereIs(loudestPoint, design),
    loudestAt: { xM: loudestPoint.xM, zM: loudestPoint.zM },
    meanDb: relative(open.reduce((sum, index) => sum + (squares[index] as number), 0) / open.length),
    quietestDb: relative(Math.min(...open.map((index) => squares[index] as number))),
    sourceAt,
  }
}

/** How near to a wall still counts as at it, m. */
const nearWallM = 1

function whereIs({ xM, zM }: PlanPoint, design: HallDesign): LoudestPlace {
  const room = roomAround(design)
  const side = xM - room.xMinM < nearWallM || room.xMaxM - xM < nearWallM
  const behind = zM - room.zMinM < nearWallM
  const opposite = room.zMaxM - zM < nearWallM
  if (side && behind) return 'corner-behind'
  if (side && opposite) return 'corner-opposite'
  if (behind) return 'wall-behind'
  if (opposite) return 'wall-opposite'
  return side ? 'wall-side' : 'inside'
}

/** Below this frequency a hall's resonances stand apart, Hz. */
export const hallJoiningHz = (design: HallDesign, state?: AirState): number =>
  joiningFrequencyHz(hallOf(design), airOf(state))
