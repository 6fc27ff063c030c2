import { distanceToFootprintM } from '../../acoustics/field/footprint.ts'
import {
  type Air,
  bandLevelsDb,
  type Complex,
  type Hall,
  type HallLevels,
  hallLevels,
  type PlacedSource,
  type PlanPoint,
  type Point,
  powerCurve,
  type Rig,
  type RigField,
  rigSources,
} from '../../acoustics/index.ts'
import { makeRoom } from '../../acoustics/make-room.ts'
import { requireInRange } from '../../acoustics/numeric-range.ts'
import { freeField, voicedAt } from './free-field.ts'
import { type HallDesign, hallOf } from './hall-scene.ts'
import { isInRoom, rigPlaceIn, roomAround } from './room.ts'
import * as say from './scene.messages.ts'
import { earHeightM } from './scene-terms.ts'
import { solvedModel, solvedRevision } from './solved-gear.ts'
import { heardBands } from './third-octaves.ts'

/** A rig in a hall, ready to be asked. Points come in the rig's coordinates; `toHall` moves them into the hall's. */
export type HallRig = {
  air: Air
  /** The same rig in free air, and the hall without it. */
  free: RigField
  hall: Hall
  sources: PlacedSource[]
  levels: HallLevels
  /** Where the rig's origin stands in the hall. */
  at: Point
  toHall(point: Point): Point
  /** Lowest frequency from which the reverberant field is told by itself, Hz. */
  lateFromHz: number
  /** Sums of images by frequency and damping, for the sound. */
  fields: Map<string, (listener: Point) => Complex>
}

/** A rig's sources and what they radiate together, which is the same in every hall where it stands at the same place. */
type Sounding = { sources: PlacedSource[]; powerAt: (frequencyHz: number) => number }
const soundings = new Map<string, Sounding>()

function soundingOf(rig: Rig, position: Point, air: Air): Sounding {
  const key = keyOf(rig, position, air)
  let found = soundings.get(key)
  if (!found) {
    const sources = rigSources(rig, air, solvedModel, { position, yawRad: 0 }, voicedAt)
    found = { sources, powerAt: powerCurve(sources, air) }
    if (soundings.size >= 4) soundings.clear()
    soundings.set(key, found)
  }
  return found
}

/** With the solved cabinets at hand a rig radiates otherwise. */
const keyOf = (...asked: unknown[]): string => `${solvedRevision()} ${JSON.stringify(asked)}`

const kept = new Map<string, HallRig>()
const mostKept = 6

/**
 * Puts a rig where it stands in a hall, set flat in free air. Kept: the power that a rig radiates, and the resonances, take seconds to
 * work out.
 *
 * @throws RangeError for a rig that does not stand inside the hall, or as hallOf
 */
export function hallRig(rig: Rig, design: HallDesign, air: Air): HallRig {
  const key = keyOf(rig, design, air)
  let found = kept.get(key)
  if (!found) {
    const hall = hallOf(design)
    const at = rigPlaceIn(design)
    const { sources, powerAt } = soundingOf(rig, at, air)
    const levels = hallLevels(sources, hall, air, powerAt)
    found = {
      air,
      free: freeField(rig, air),
      hall,
      sources,
      levels,
      at,
      toHall: ({ xM, yM, zM }) => ({ xM: xM + at.xM, yM: yM + at.yM, zM: zM + at.zM }),
      lateFromHz: firstLateBandHz(levels.joiningHz),
      fields: new Map(),
    }
    makeRoom(kept, mostKept)
    kept.set(key, found)
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
export function requireHallPlace(rig: Rig, design: HallDesign, place: PlanPoint): PlanPoint {
  requireInRange('place.xM', place.xM, { unit: 'm' })
  requireInRange('place.zM', place.zM, { unit: 'm' })
  if (!isInRoom(roomAround(design), place)) {
    throw new RangeError(
      say.outsideHall({
        aheadM: Number(Math.abs(place.zM).toFixed(1)),
        behind: place.zM < 0,
        asideM: Number(Math.abs(place.xM).toFixed(1)),
        left: place.xM < 0,
      }),
    )
  }
  if (rig.cabinets.some((cabinet) => distanceToFootprintM(cabinet, place) === 0))
    throw new RangeError(say.insideCabinet())
  return place
}

const atEars = ({ xM, zM }: PlanPoint): Point => ({ xM, yM: earHeightM, zM })

/** Lines in a third octave: resonances need many, the rest as in the free field. */
const linesPerBand = { resonances: 24, above: 8 }

/** Levels of heardBands at one place: all of it, and the direct sound alone. */
export type PlaceLevels = { total: Float64Array; direct: Float64Array }

export function hallLevelsAt({ levels, toHall, free, lateFromHz }: HallRig, place: PlanPoint): PlaceLevels {
  const inHall = toHall(atEars(place))
  const of = (lines: number, bands: typeof heardBands) => [...levels.bandLevelsDb(inHall, bands, lines)]
  const low = heardBands.filter(({ lowerHz }) => lowerHz < lateFromHz)
  const high = heardBands.filter(({ lowerHz }) => lowerHz >= lateFromHz)
  return {
    total: Float64Array.from([...of(linesPerBand.resonances, low), ...of(linesPerBand.above, high)]),
    direct: directLevelsDb(free, place),
  }
}

/** Levels of heardBands of the direct sound alone. */
export const directLevelsDb = (free: RigField, place: PlanPoint): Float64Array =>
  bandLevelsDb((frequencyHz) => free.transferAt(atEars(place), frequencyHz), heardBands)

/** How far the front place stays off the far wall, m. */
const offFarWallM = 0.5

/** The place straight in front as far from the front face, but within the hall. */
export const hallFrontM = (distanceM: number, design: Pick<HallDesign, 'lengthM' | 'rigAt'>): number =>
  Math.min(distanceM, design.lengthM - rigPlaceIn(design).zM - offFarWallM)
