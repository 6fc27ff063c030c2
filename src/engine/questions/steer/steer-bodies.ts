import { type GroupBox, leastGapM, narrowestGapM } from '../../../acoustics/index.ts'
import { wayCabinet } from '../../scene/solved-gear.ts'
import { boxOf, boxPlaces, type StandingBox, type SteerSize, sizeOf, stackPlaces, standing } from './steer-boxes.ts'
import type { SteerQuestion, SteerTogether } from './steer-terms.ts'

// The boxes of a set as bodies that stand in each other's way.

/** The question as it is solved: without an error, and outdoors on hard ground instead of in a hall or on grass. */
export function solvable<Asked extends SteerQuestion>(question: Asked): Asked {
  const { surroundings } = question
  return {
    ...question,
    error: 'none',
    surroundings: surroundings.kind === 'wall' ? surroundings : { kind: 'outdoors', floor: 'hard' },
  }
}

/** Boxes as bodies; what stands on the floor does so to the last bit. */
function bodiesAt({ rig }: Pick<SteerQuestion, 'rig'>, boxes: readonly StandingBox[]): GroupBox[] {
  const { cabinet, way } = boxOf(rig)
  return boxes.map(({ xM, yM, zM, turned }) => ({
    cabinet: wayCabinet(cabinet, way),
    position: { xM, yM, zM },
    turned,
  }))
}

type Bodied = Pick<SteerQuestion, 'rig' | 'set'>

export const setBodies = (question: Bodied, size: SteerSize): GroupBox[] =>
  bodiesAt(question, standing(boxPlaces(question.set, size), size))

/** The same boxes in one block. */
export const stackBodies = (question: Bodied, size: SteerSize): GroupBox[] =>
  bodiesAt(question, stackPlaces(question.set.count, size))

/** Why there is nothing to solve; null if there is. */
export function bodyObstacle(
  question: Bodied & Pick<SteerQuestion, 'point'>,
): Exclude<SteerTogether, { kind: 'solved' }> | null {
  if (question.point) return { kind: 'points' }
  // Groups of bodies know apertures on front faces alone.
  if (boxOf(question.rig).way.port) return { kind: 'port' }
  const gapM = narrowestGapM(setBodies(question, sizeOf(question)))
  return gapM < leastGapM - 1e-6 ? { kind: 'too-close', gapM, neededM: leastGapM } : null
}
