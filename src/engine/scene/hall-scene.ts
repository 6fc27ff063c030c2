import {
  type Air,
  furnishedHall,
  type Hall,
  type HallLevels,
  type HallSize,
  type HallSurface,
  hallLevels,
  hallSurfaces,
  octaveTable,
  type PlacedSource,
  type Point,
  powerCurve,
  type Rig,
  rigSources,
} from '../../acoustics/index.ts'
import { rigInHall } from './room.ts'
import { solvedModel, solvedRevision } from './solved-gear.ts'

/** A furnished hall as plain data: absorption by octave for each surface, and the absorption area of people and things. */
export type HallDesign = HallSize & {
  frequenciesHz: number[]
  surfaces: Record<HallSurface, number[]>
  objectsM2: number[]
}

/** The hall of a design. Throws RangeError for a size, a table or a coefficient out of range, at the latest when it is asked. */
export function hallOf({ lengthM, widthM, heightM, frequenciesHz, surfaces, objectsM2 }: HallDesign): Hall {
  const tables = Object.fromEntries(
    hallSurfaces.map((surface) => [surface, octaveTable(frequenciesHz, surfaces[surface])]),
  ) as Record<HallSurface, (frequencyHz: number) => number>
  return furnishedHall({ lengthM, widthM, heightM }, tables, octaveTable(frequenciesHz, objectsM2))
}

/** A rig in a hall, ready to be asked. */
export type HallScene = {
  hall: Hall
  air: Air
  sources: PlacedSource[]
  levels: HallLevels
  toHall(point: Point): Point
}

/** A rig's sources and what they radiate together, which is the same in every hall. */
type Sounding = { sources: PlacedSource[]; powerAt: (frequencyHz: number) => number }
const soundings = new Map<string, Sounding>()

function soundingOf(rig: Rig, air: Air, voicedAt: Point, at: Point): Sounding {
  // With the solved cabinets at hand a rig radiates otherwise.
  const key = `${solvedRevision()} ${JSON.stringify([rig, air, voicedAt, at])}`
  let found = soundings.get(key)
  if (!found) {
    const sources = rigSources(rig, air, solvedModel, { position: at, yawRad: 0 }, voicedAt)
    found = { sources, powerAt: powerCurve(sources, air) }
    if (soundings.size >= 4) soundings.clear()
    soundings.set(key, found)
  }
  return found
}

/**
 * Puts a rig into a hall. Points come in the rig's coordinates; `toHall` moves them into the hall's.
 *
 * @param voicedAt  where the rig has been set flat in free field, in its own coordinates
 * @throws RangeError for a rig that does not stand inside the hall, or as hallOf
 */
export function hallScene(rig: Rig, design: HallDesign, air: Air, voicedAt: Point, at: Point = rigInHall): HallScene {
  const hall = hallOf(design)
  const { sources, powerAt } = soundingOf(rig, air, voicedAt, at)
  return {
    hall,
    air,
    sources,
    levels: hallLevels(sources, hall, air, powerAt),
    toHall: ({ xM, yM, zM }) => ({ xM: xM + at.xM, yM: yM + at.yM, zM: zM + at.zM }),
  }
}
