import { requireInRange } from '../numeric-range.ts'

/**
 * The unit vector (sin h cos v, sin v, cos h cos v) of a direction of the far field, see Radiation.
 *
 * @throws RangeError for an angle that is not finite
 */
export function farFieldDirection(horizontalRad: number, verticalRad: number): [x: number, y: number, z: number] {
  requireDirection(horizontalRad, verticalRad)
  const c = Math.cos(verticalRad)
  return [Math.sin(horizontalRad) * c, Math.sin(verticalRad), Math.cos(horizontalRad) * c]
}

/** @throws RangeError for an angle that is not finite */
export function requireDirection(horizontalRad: number, verticalRad: number): void {
  requireInRange('horizontalRad', horizontalRad, { unit: 'rad' })
  requireInRange('verticalRad', verticalRad, { unit: 'rad' })
}
