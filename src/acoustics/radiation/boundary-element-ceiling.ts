import { type Air, requireAir } from '../medium/air.ts'
import { ceilingForPointsHz, usualPointsPerWavelength } from './box-surface/point-count.ts'
import { type Cabinet, checkCabinet } from './cabinet.ts'

// Apart from the solver, for those who ask how far it reaches without solving anything.

/** Points on an eighth of the box up to which 'auto' takes boundary elements: less than a second’s work. */
export const autoPoints = 480

/**
 * Frequency, Hz, above which solveCabinet leaves boundary elements if it may choose.
 *
 * @throws RangeError for a cabinet or an Air out of range
 * Source: our own choice of effort; an eighth of the box has 480 points there.
 */
export function boundaryElementCeilingHz(cabinet: Cabinet, air: Air): number {
  checkCabinet(cabinet)
  requireAir(air)
  return ceilingForPointsHz(cabinet, air, usualPointsPerWavelength, autoPoints)
}
