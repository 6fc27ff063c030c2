import { distanceToFootprintM } from '../../../acoustics/field/footprint.ts'
import {
  amplitudeLevelDb,
  hallField,
  levelDb,
  magnitude,
  type PlanGrid,
  type PlanPoint,
  type Point,
  planGridPoint,
  planOfPressure,
  type Rig,
  rigSources,
} from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { voicedAt } from '../../scene/free-field.ts'
import { type HallDesign, hallOf } from '../../scene/hall-scene.ts'
import { mapHz, type SourcePlace } from '../../scene/hall-terms.ts'
import { rigDepthM, rigOutline } from '../../scene/rig-outline.ts'
import { rigPlaceIn, roomAround } from '../../scene/room.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { solvedModel } from '../../scene/solved-gear.ts'
import { standingRig } from '../../scene/standing-rig.ts'

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
  /** The loudest place re 4 m in front of the rig outdoors, on hard ground, at this frequency, dB, and where it is. */
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
function mapGrid(design: HallDesign, frequencyHz: number): PlanGrid {
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

/** How far off the walls a rig stands in a corner or in the middle, m. */
const offWallM = 0.1

/** The rig's front in the hall's coordinates for each of the places that it may stand at. */
export function sourceInHall(source: SourcePlace, rig: Rig, design: HallDesign): Point {
  if (source === 'usual') return rigPlaceIn(design)
  const { xMinM, xMaxM } = rigOutline(rig)
  const halfM = Math.max(-xMinM, xMaxM)
  const zM = rigDepthM(rig) + offWallM
  return source === 'corner' ? { xM: -design.widthM / 2 + halfM + offWallM, yM: 0, zM } : { xM: 0, yM: 0, zM }
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
  const usual = rigPlaceIn(design)
  const sourceAt = { xM: at.xM - usual.xM, zM: at.zM - usual.zM }
  const offBoxM = ({ xM, zM }: PlanPoint) => {
    const place = { xM: xM - sourceAt.xM, zM: zM - sourceAt.zM }
    return Math.min(...rig.cabinets.map((cabinet) => distanceToFootprintM(cabinet, place)))
  }
  const picture = planOfPressure(({ xM, yM, zM }) => pressureAt({ xM: xM + usual.xM, yM, zM: zM + usual.zM }), grid, {
    leftOut: (point) => offBoxM(point) === 0,
  })
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
  const ground = standingRig(rig, { kind: 'outdoors', floor: 'hard' }, air)
  const referenceDb = amplitudeLevelDb(magnitude(ground.field.transferAt(voicedAt, frequencyHz)))
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
