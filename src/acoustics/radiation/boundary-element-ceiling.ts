import { type Air, requireAir } from '../medium/air.ts'
import { ceilingForPanelsHz, type MeshFineness } from './boundary-elements/panel-count.ts'
import { type Cabinet, checkCabinet } from './cabinet.ts'

// Apart from the solver, for those who ask how far it reaches without solving anything.

/** Mesh of solveCabinet unless another is asked for. */
export const autoFineness: MeshFineness = { elementsPerWavelength: 8, fewestPanels: 4 }

/** Panels on an eighth of the box up to which 'auto' takes boundary elements: about a second's work. */
export const autoPanels = 480

/**
 * Frequency, Hz, above which solveCabinet leaves boundary elements if it may choose.
 *
 * @throws RangeError for a cabinet or an Air out of range
 * Source: our own choice of effort; an eighth of the box has 480 panels there.
 */
export function boundaryElementCeilingHz(cabinet: Cabinet, air: Air): number {
  checkCabinet(cabinet)
  requireAir(air)
  return ceilingForPanelsHz(cabinet, air, autoFineness, autoPanels)
}
