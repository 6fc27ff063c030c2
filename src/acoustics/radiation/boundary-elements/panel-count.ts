import type { Air } from '../../medium/air.ts'
import { type BoxSize, panelsAlongHalf } from './box-mesh.ts'

/** How fine a box is meshed. */
export type MeshFineness = {
  /** Panels are at most a wavelength over this wide. */
  elementsPerWavelength: number
  /** However long the wave: at least so many even panels along half of each edge. */
  fewestPanels: number
}

/** Panels that an eighth of a box would get; see boxSolution. */
export function panelsOfEighth(size: BoxSize, frequencyHz: number, air: Air, fineness: MeshFineness): number {
  const widestM = air.speedOfSoundMps / frequencyHz / fineness.elementsPerWavelength
  const [x, y, z] = [size.widthM, size.heightM, size.depthM].map((edgeM) =>
    panelsAlongHalf(edgeM / 2, widestM, fineness.fewestPanels),
  ) as [number, number, number]
  return x * y + y * z + z * x
}

/** Highest frequency whose mesh stays within a number of panels on an eighth of the box, by bisection. */
export function ceilingForPanelsHz(box: BoxSize, air: Air, fineness: MeshFineness, panels: number): number {
  let low = 1e-6
  let high = 1e6
  for (let round = 0; round < 60; round++) {
    const middle = Math.sqrt(low * high)
    if (panelsOfEighth(box, middle, air, fineness) <= panels) low = middle
    else high = middle
  }
  return low
}
