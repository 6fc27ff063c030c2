import {
  type Air,
  type Complex,
  hallField,
  monopole,
  type PlacedSource,
  type Point,
  pressureField,
  type Radiation,
  type Wall,
  withRearPort,
} from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import { type HallDesign, hallOf } from '../../scene/hall-scene.ts'
import { cabinetKey, solvedModel, solvedRevision, wayCabinet } from '../../scene/solved-gear.ts'
import type { Floor } from '../../scene/surroundings.ts'
import { wallsAt } from '../../scene/walls.ts'
import { boxOf, originInHall, type StandingBox } from './steer-boxes.ts'
import type { Arrangement, SteerBox } from './steer-terms.ts'

// What single boxes under unit drive send to places, kept so that delays, levels and polarities are only sums over them.

/** Where boxes stand, ready to be asked. Coordinates are the set's. */
export type SteerScene = {
  /** Everything that the sound hangs on: the boxes, the air, and what is round them. */
  key: string
  air: Air
  radiation(frequencyHz: number): Radiation
  surroundings: { kind: 'open'; walls: Wall[] } | { kind: 'hall'; design: HallDesign; origin: Point }
}

/** What is asked of: boxes in some air. */
type Boxes = SteerBox & InAir

const boxKey = ({ rig, point, air }: Boxes): string => {
  const { temperatureC, relativeHumidityPct } = airOf(air)
  const inAir = `${temperatureC} ${relativeHumidityPct}`
  if (point) return `${inAir} point`
  const { cabinet, way } = boxOf(rig)
  // With the solved cabinets at hand a box radiates otherwise.
  return `${inAir} ${solvedRevision()} ${cabinetKey(wayCabinet(cabinet, way))} ${JSON.stringify(way.port ?? null)}`
}

const radiations = new Map<string, Radiation>()
const keptRadiations = 2000

/** The radiation of a box, each frequency worked out once. */
function radiationOf(box: Boxes): (frequencyHz: number) => Radiation {
  const air = airOf(box.air)
  if (box.point) return (frequencyHz) => monopole(frequencyHz, air)
  const { cabinet, way } = boxOf(box.rig)
  const solved = wayCabinet(cabinet, way)
  const key = boxKey(box)
  return (frequencyHz) => {
    const name = `${frequencyHz} ${key}`
    let radiation = radiations.get(name)
    if (!radiation) {
      radiation = way.port
        ? withRearPort(solvedModel, solved, way.port, frequencyHz, air)
        : solvedModel(solved, frequencyHz, air)
      makeRoom(radiations, keptRadiations)
      radiations.set(name, radiation)
    }
    return radiation
  }
}

/** Boxes on the ground, hard unless said; with a hard wall at a z, m, unless it is null. */
export function openScene(box: Boxes, wallZM: number | null, floor: Floor = 'hard'): SteerScene {
  const air = airOf(box.air)
  return {
    key: `open ${floor} ${wallZM} ${boxKey(box)}`,
    air,
    radiation: radiationOf(box),
    surroundings: { kind: 'open', walls: wallsAt({ behindZM: wallZM, floor }, air) },
  }
}

/** Boxes in a hall, the set's origin where its arrangement stands there. */
export function sceneInHall(box: Boxes, design: HallDesign, arrangement: Arrangement): SteerScene {
  const origin = originInHall(design, arrangement)
  return {
    key: `hall ${origin.xM} ${JSON.stringify(design)} ${boxKey(box)}`,
    air: airOf(box.air),
    radiation: radiationOf(box),
    surroundings: { kind: 'hall', design, origin },
  }
}

const placedKey = ({ xM, yM, zM, turned }: StandingBox): string => `${xM} ${yM} ${zM} ${turned}`

function placed({ radiation }: SteerScene, { xM, yM, zM, turned }: StandingBox): PlacedSource {
  return { radiation, position: { xM, yM, zM }, yawRad: turned ? Math.PI : 0, gain: 1, delayS: 0, polarity: 1 }
}

/** A box and what it plays. */
export type PlayedBox = StandingBox & { gain: number; delayS: number }

/** The field of boxes in step under unit drive, at one frequency. */
const fieldOf = (
  scene: SteerScene,
  boxes: readonly StandingBox[],
  frequencyHz: number,
): ((listener: Point) => Complex) =>
  playedField(
    scene,
    boxes.map((box) => ({ ...box, gain: 1, delayS: 0 })),
    frequencyHz,
  )

/**
 * The field of boxes as they play, at one frequency.
 *
 * @param dampingPerM  in a hall a further loss along every path, 1/m; see hallField
 */
export function playedField(
  scene: SteerScene,
  boxes: readonly PlayedBox[],
  frequencyHz: number,
  dampingPerM = 0,
): (listener: Point) => Complex {
  const sources = boxes.map((box) => ({ ...placed(scene, box), gain: box.gain, delayS: box.delayS }))
  const { air, surroundings } = scene
  if (surroundings.kind === 'open') return pressureField(sources, surroundings.walls, frequencyHz, air)
  const { design, origin } = surroundings
  const moved = ({ xM, yM, zM }: Point): Point => ({ xM: xM + origin.xM, yM: yM + origin.yM, zM: zM + origin.zM })
  const field = hallField(
    sources.map((source) => ({ ...source, position: moved(source.position) })),
    hallOf(design),
    frequencyHz,
    air,
    dampingPerM,
  )
  return (listener) => field(moved(listener))
}

/** Fields of halls are costly to prepare and cheap to ask: those of the last set are kept, some tens of megabytes. */
const hallFields = new Map<string, (listener: Point) => Complex>()
const keptHallFields = 300

function keptField(
  scene: SteerScene,
  boxes: readonly StandingBox[],
  frequencyHz: number,
): (listener: Point) => Complex {
  if (scene.surroundings.kind === 'open') return fieldOf(scene, boxes, frequencyHz)
  const key = `${frequencyHz} ${boxes.map(placedKey).join()} ${scene.key}`
  return keptOrMade(hallFields, keptHallFields, key, () => fieldOf(scene, boxes, frequencyHz))
}

/** Complex pressure at the spots of a place by line: index = line × spots + spot. Lines that are not `done` hold nothing. */
export type LineResponses = { re: Float64Array; im: Float64Array; done: Uint8Array }

const responses = new Map<string, LineResponses>()
const keptResponses = 600

/**
 * What boxes in step send to the spots of a place under unit drive.
 *
 * @param boxes    one box, or a block that always plays in step
 * @param linesHz  all lines there are; those of `among` are filled
 * @param keep     whether to keep a hall's fields for other places, too; a search does not
 */
export function responsesAt(
  scene: SteerScene,
  boxes: readonly StandingBox[],
  spots: readonly Point[],
  linesHz: readonly number[],
  among: readonly number[],
  keep = true,
): LineResponses {
  const first = spots[0] as Point
  const name = `${first.xM} ${first.yM} ${first.zM} ${spots.length} ${linesHz[0]} ${linesHz.at(-1)} ${linesHz.length} ${boxes.map(placedKey).join()} ${scene.key}`
  const found = keptOrMade(responses, keptResponses, name, () => {
    const values = linesHz.length * spots.length
    return { re: new Float64Array(values), im: new Float64Array(values), done: new Uint8Array(linesHz.length) }
  })
  for (const line of among) {
    if (found.done[line]) continue
    const field = (keep ? keptField : fieldOf)(scene, boxes, linesHz[line] as number)
    for (const [spot, point] of spots.entries()) {
      const { re, im } = field(point)
      found.re[line * spots.length + spot] = re
      found.im[line * spots.length + spot] = im
    }
    found.done[line] = 1
  }
  return found
}

/** Complex pressure at many places at one frequency, by place; 0 where `leftOut`. */
export type PlaceResponses = { re: Float64Array; im: Float64Array }

const grids = new Map<string, PlaceResponses>()
const keptGrids = 40

/**
 * What boxes in step send to many places under unit drive, at one frequency.
 *
 * @param name  a name of the places, by which the answer is kept
 */
export function gridResponses(
  scene: SteerScene,
  boxes: readonly StandingBox[],
  places: readonly Point[],
  name: string,
  frequencyHz: number,
): PlaceResponses {
  const key = `${name} ${frequencyHz} ${boxes.map(placedKey).join()} ${scene.key}`
  return keptOrMade(grids, keptGrids, key, () => {
    const made = { re: new Float64Array(places.length), im: new Float64Array(places.length) }
    const field = keptField(scene, boxes, frequencyHz)
    for (const [index, place] of places.entries()) {
      const { re, im } = field(place)
      made.re[index] = re
      made.im[index] = im
    }
    return made
  })
}

/** What is kept under a name, or is made now; asked again it is the newest. */
function keptOrMade<T extends object>(map: Map<string, T>, most: number, name: string, make: () => T): T {
  let found = map.get(name)
  if (found) map.delete(name)
  else {
    found = make()
    makeRoom(map, most)
  }
  map.set(name, found)
  return found
}
