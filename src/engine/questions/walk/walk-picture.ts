import {
  amplitudeLevelDb,
  frontTable,
  magnitude,
  type PlanGrid,
  type PlanLevels,
  planGridPoint,
  planLevelReFrontDb,
  planWavesReFront,
} from '../../../acoustics/index.ts'
import type { HallRig } from '../../scene/hall-rig.ts'
import type { Picture } from '../../scene/picture.ts'
import { isInRoom, roomAround } from '../../scene/room.ts'
import { spectrumBands } from '../../scene/third-octaves.ts'
import { type WalkScene, walkScene } from './walk.ts'

/** What a picture of the plan shows: waves at one frequency, or levels in one third octave. */
export type PictureQuestion = WalkScene & {
  grid: PlanGrid
  frequencyHz: number
  kind: 'waves' | 'levels'
}

/** Computes a picture of the plan re the front at the same distance in free air. In a hall it is always of levels. */
export function planPicture(question: PictureQuestion): Picture {
  const { grid, frequencyHz, kind } = question
  const { field, free, hall } = walkScene(question)
  const { columns, rows } = grid
  if (hall) return hallPicture(hall, grid, frequencyHz)
  if (kind === 'levels') {
    const band = spectrumBands.find(({ nominalHz }) => nominalHz === frequencyHz)
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
function hallPicture({ free, hall, levels, toHall }: HallRig, grid: PlanGrid, frequencyHz: number): Picture {
  const { columns, rows } = grid
  const room = roomAround(hall)
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
      const meanSquare = levels.meanSquareAt(toHall(point), frequencyHz, 'band')
      levelDb[index] = 10 * Math.log10(meanSquare) - frontDb(Math.hypot(point.xM, point.zM))
    }
  }
  return { kind: 'levels', columns, rows, levelDb, inside }
}
