import { footprints, type Rig } from '../../acoustics/index.ts'
import { requireInRange } from '../../acoustics/numeric-range.ts'
import { farthestWallM, nearestWallM } from './scene-terms.ts'

/** z of a wall so far behind the rearmost face of a rig, m. Throws RangeError for a distance out of range. */
export function wallZM(rig: Rig, wallM: number): number {
  requireInRange('wallM', wallM, { min: nearestWallM, max: farthestWallM, unit: 'm' })
  return Math.min(...footprints(rig).flatMap(({ corners }) => corners.map(({ zM }) => zM))) - wallM
}
