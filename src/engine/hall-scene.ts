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
  type Rig,
  rigSources,
} from '../acoustics/index.ts'
import { rigInHall } from './room.ts'
import { solvedModel } from './solved-gear.ts'

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
export type HallScene = { hall: Hall; sources: PlacedSource[]; levels: HallLevels; toHall(point: Point): Point }

/**
 * Puts a rig into a hall. Points come in the rig's coordinates; `toHall` moves them into the hall's.
 *
 * @param voicedAt  where the rig has been set flat in free field, in its own coordinates
 * @throws RangeError for a rig that does not stand inside the hall, or as hallOf
 */
export function hallScene(rig: Rig, design: HallDesign, air: Air, voicedAt: Point, at: Point = rigInHall): HallScene {
  const hall = hallOf(design)
  const sources = rigSources(rig, air, solvedModel, { position: at, yawRad: 0 }, voicedAt)
  return {
    hall,
    sources,
    levels: hallLevels(sources, hall, air),
    toHall: ({ xM, yM, zM }) => ({ xM: xM + at.xM, yM: yM + at.yM, zM: zM + at.zM }),
  }
}
