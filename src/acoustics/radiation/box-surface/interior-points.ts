import type { Point } from '../../point.ts'
import { radicalInverse } from '../boundary-elements/radical-inverse.ts'
import type { BoxSize } from '../cabinet.ts'

/**
 * Points spread evenly through the inner part of the eighth of a box, never on a plane of symmetry: the Halton sequence
 * in bases 2, 3 and 5.
 *
 * @param size   sizes in m
 * @param count  whole number, 0 or more
 * Source: J. H. Halton, Numer. Math. 2 (1960) 84–90.
 */
export function interiorEighth({ widthM, heightM, depthM }: BoxSize, count: number): Point[] {
  // The sound inside is as well pinned a little away from the surface, where fewer patches are near.
  const inset = 0.8
  return Array.from({ length: count }, (_, i) => ({
    xM: (inset * radicalInverse(i + 1, 2) * widthM) / 2,
    yM: (inset * radicalInverse(i + 1, 3) * heightM) / 2,
    zM: (inset * radicalInverse(i + 1, 5) * depthM) / 2,
  }))
}
