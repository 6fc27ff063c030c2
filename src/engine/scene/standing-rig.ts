import { type Air, bandLevelsDb, type Point, type Rig, type RigField, walledField } from '../../acoustics/index.ts'
import type { WalledRig } from './arrivals.ts'
import { freeField } from './free-field.ts'
import { type HallRig, hallLevelsAt, hallRig } from './hall-rig.ts'
import { sideWallXM, wallZM } from './rig-outline.ts'
import * as say from './scene.messages.ts'
import type { Surroundings } from './surroundings.ts'
import { heardBands } from './third-octaves.ts'
import { wallsAt } from './walls.ts'

/** A rig where it stands: `field` is what arrives, `free` the same rig in free air. In a hall `field` is the direct sound. */
export type StandingRig = WalledRig & { rig: Rig; field: RigField; hall?: HallRig }

/**
 * A rig in its surroundings.
 *
 * @throws RangeError for a wall that a cabinet reaches through, an unknown finish, a hall out of range, or a rig that is not sound
 */
export function standingRig(rig: Rig, surroundings: Surroundings, air: Air): StandingRig {
  const free = freeField(rig, air)
  if (surroundings.kind === 'hall') {
    return { rig, air, free, field: free, hall: hallRig(rig, surroundings.design, air) }
  }
  const walls =
    surroundings.kind === 'outdoors'
      ? wallsAt(surroundings, air)
      : wallsAt(
          {
            ...surroundings,
            behindZM: wallZM(rig, surroundings.gapM),
            sideXM: typeof surroundings.sideGapM === 'number' ? sideWallXM(rig, surroundings.sideGapM) : null,
          },
          air,
        )
  if (walls.length === 0) return { rig, air, free, field: free }
  const walled = walledField(free, walls)
  return { rig, air, free, field: walled, walled }
}

/** The same rig in free air. */
export const inFreeAir = ({ rig, air, free }: StandingRig): StandingRig => ({ rig, air, free, field: free })

/** Lines in a third octave: reflections put dips into it that a few lines would miss. */
const linesPerBand = { free: 8, walled: 24 }

/** Levels of heardBands at a place at ear height, as the transfer function gives them. Throws RangeError for a place where nobody can be. */
export function levelsAt({ field, walled, hall }: StandingRig, place: Point): Float64Array {
  if (hall) {
    if (!field.isOpen(place)) throw new RangeError(say.insideCabinet())
    return hallLevelsAt(hall, place).total
  }
  return bandLevelsDb(
    (frequencyHz) => field.transferAt(place, frequencyHz),
    heardBands,
    walled ? linesPerBand.walled : linesPerBand.free,
  )
}
