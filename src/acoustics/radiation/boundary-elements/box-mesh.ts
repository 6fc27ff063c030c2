import type { Point } from '../../point.ts'
import type { Quad } from './panel-mesh.ts'

/** Outer sizes of a box, m. */
export type BoxSize = { widthM: number; heightM: number; depthM: number }

/**
 * Places of the panel edges along half an edge of a box, from the middle (0) to the end (halfM). Panels are even, save
 * that the last one is cut finer towards the end, because the pressure near a right-angled edge changes like r^{2/3}.
 *
 * The cuts are shares of a panel, so the smallest panel shrinks only in step with the others and the edges keep their order:
 * as the mesh is refined the error falls with the 4/3 power of the width, or the second where smooth faces still
 * dominate (a driver's rim, which runs across panels, adds a rest that falls with about the 3/2 power). Widths that grow with the square of the
 * distance from the edge bring the second order throughout, but with wide panels in the middle. At equal numbers of panels
 * (box 0.32 × 0.56 × 0.30 m, r.m.s. of 60 directions) the exponents 1.5 and 2 were 1.1 and 1.2 times better than this at
 * 500 Hz and 224 panels, 1.3 times better and 1.3 times worse at 1500 Hz and 429 panels: too little for another mesh.
 *
 * @param halfM      m, above 0
 * @param widestM    greatest panel, m, above 0
 * @param fewest     at least this many even panels
 */
export function gradedHalf(halfM: number, widestM: number, fewest: number): number[] {
  const even = panelsAlongHalf(halfM, widestM, fewest) - edgeShares.length
  const stepM = halfM / even
  const places = Array.from({ length: even }, (_, i) => i * stepM)
  for (const share of edgeShares) places.push(halfM - share * stepM)
  return [...places, halfM]
}

/** Number of panels that gradedHalf makes. */
export function panelsAlongHalf(halfM: number, widestM: number, fewest: number): number {
  return Math.max(fewest, Math.ceil(halfM / widestM)) + edgeShares.length
}

/** Cuts of the last even panel, in its width, from the end. */
const edgeShares = [0.4, 0.1]

/**
 * The eighth of a box about the origin that lies in x > 0, y > 0, z > 0: a quarter of its front (z = depth/2), of its
 * right side and of its top.
 *
 * @param size     sizes in m
 * @param widestM  greatest panel edge, m
 * @param fewest   at least this many even panels along half of each edge
 */
export function boxEighth({ widthM, heightM, depthM }: BoxSize, widestM: number, fewest: number): Quad[] {
  const xs = gradedHalf(widthM / 2, widestM, fewest)
  const ys = gradedHalf(heightM / 2, widestM, fewest)
  const zs = gradedHalf(depthM / 2, widestM, fewest)
  const [right, top, front] = [widthM / 2, heightM / 2, depthM / 2]
  return [
    ...tiles(xs, ys, (a, b) => ({ xM: a, yM: b, zM: front })),
    ...tiles(ys, zs, (a, b) => ({ xM: right, yM: a, zM: b })),
    ...tiles(zs, xs, (a, b) => ({ xM: b, yM: top, zM: a })),
  ]
}

function tiles(as: number[], bs: number[], at: (a: number, b: number) => Point): Quad[] {
  const quads: Quad[] = []
  for (let i = 1; i < as.length; i++) {
    for (let j = 1; j < bs.length; j++) {
      const [a0, a1, b0, b1] = [as[i - 1], as[i], bs[j - 1], bs[j]] as [number, number, number, number]
      quads.push([at(a0, b0), at(a1, b0), at(a1, b1), at(a0, b1)])
    }
  }
  return quads
}

/**
 * Points spread evenly through the inner part of the eighth of a box, never on a plane of symmetry: the Halton sequence
 * in bases 2, 3 and 5.
 *
 * @param size   sizes in m
 * @param count  whole number, 0 or more
 * Source: J. H. Halton, Numer. Math. 2 (1960) 84–90.
 */
export function interiorEighth({ widthM, heightM, depthM }: BoxSize, count: number): Point[] {
  // Near the surface the panels' own steps would show; the sound inside is as well pinned farther in.
  const inset = 0.8
  return Array.from({ length: count }, (_, i) => ({
    xM: (inset * radicalInverse(i + 1, 2) * widthM) / 2,
    yM: (inset * radicalInverse(i + 1, 3) * heightM) / 2,
    zM: (inset * radicalInverse(i + 1, 5) * depthM) / 2,
  }))
}

/** Halton's sequence in one base: the digits of a whole number behind the point, in reverse. 0 … 1. */
export function radicalInverse(index: number, base: number): number {
  let value = 0
  let share = 1 / base
  for (let rest = index; rest > 0; rest = Math.floor(rest / base)) {
    value += share * (rest % base)
    share /= base
  }
  return value
}
