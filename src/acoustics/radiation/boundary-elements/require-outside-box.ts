import { requireInRange } from '../../numeric-range.ts'
import type { Point } from '../../point.ts'
import { type Cabinet, isInsideBox } from '../cabinet.ts'

/**
 * Checks that a point is finite and not inside a cabinet; its surface is allowed.
 *
 * @throws RangeError naming the point and the box
 */
export function requireOutsideBox(cabinet: Cabinet, point: Point): void {
  for (const axis of ['xM', 'yM', 'zM'] as const) requireInRange(`point.${axis}`, point[axis], { unit: 'm' })
  requireNotInBox(cabinet, point)
}

/** @throws RangeError for a point inside a cabinet; for who finds out by other means whether it is finite */
export function requireNotInBox(cabinet: Cabinet, point: Point): void {
  if (!isInsideBox(cabinet, point)) return
  throw new RangeError(
    `point is (${point.xM}, ${point.yM}, ${point.zM}) m, inside the cabinet; allowed is any point outside its ` +
      `${cabinet.widthM} × ${cabinet.heightM} × ${cabinet.depthM} m box`,
  )
}
