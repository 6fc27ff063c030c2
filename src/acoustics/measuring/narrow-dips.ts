import { requireInRange } from '../numeric-range.ts'
import type { DetailEstimates } from './detail-difference.ts'
import { halfIntervalDb } from './estimate.ts'
import { median } from './median.ts'
import { detailBands } from './recording-bands.ts'

/** A narrow dip of the level at one of two places: a dip of front less behind is one in front, a peak is one behind. */
export type NarrowDip = { place: 'front' | 'behind'; frequencyHz: number; depthDb: number }

/** Where dips are looked for, Hz: below, a band is narrower than the analysis resolves; above, they lie too close together. */
export const dipRangeHz = { from: 40, to: 1000 } as const

/** Half of the width over which the middle of the neighbours is taken, detail bands: an octave, as the lowest dip of a reflection is that wide. */
const aroundBands = 24
/** Shallowest dip, dB, and by how many times its uncertainty it has to stand out. */
const leastDepthDb = 4
const distinct = 1.5
/** Widest dip, at half of its depth, detail bands: the lowest one of a reflection of half the strength has 16. */
const widestBands = 20

/**
 * Narrow dips of either level in front less behind: extremes that lie 4 dB or more, and distinctly, away from the median of the
 * two octaves around them, and at half of that are narrower than an octave.
 *
 * What both levels have alike (the noise, the loudspeaker) does not show in their difference.
 *
 * @param difference  of detailBands
 * @returns  the deepest first; frequencies are the middle of the dip at half of its depth
 * @throws RangeError if there is another number of bands
 */
export function narrowDips(difference: DetailEstimates): NarrowDip[] {
  requireInRange('difference.length', difference.length, { min: detailBands.length, max: detailBands.length })
  const rest = difference.map((estimate, band) => {
    if (!estimate) return null
    const around = difference
      .slice(Math.max(0, band - aroundBands), band + aroundBands + 1)
      .flatMap((each) => (each ? [each.levelDb] : []))
    return estimate.levelDb - median(around)
  })
  const dips: NarrowDip[] = []
  for (const [band, { centreHz }] of detailBands.entries()) {
    const estimate = difference[band]
    const here = rest[band]
    if (!estimate || here === null || here === undefined) continue
    if (centreHz < dipRangeHz.from || centreHz > dipRangeHz.to) continue
    const depthDb = Math.abs(here)
    if (depthDb < Math.max(leastDepthDb, distinct * halfIntervalDb(estimate))) continue
    const side = Math.sign(here)
    const isExtreme = [-3, -2, -1, 1, 2, 3].every((step) => side * (rest[band + step] ?? 0) <= depthDb)
    if (!isExtreme) continue
    const [from, to] = halfDepth(rest, band, side, depthDb)
    if (to - from > widestBands || from < 0 || to > detailBands.length - 1) continue
    // The dips of a reflection are alike on both sides over frequency, not over its logarithm.
    const frequencyHz = (frequencyAt(from) + frequencyAt(to)) / 2
    const place = side < 0 ? 'front' : 'behind'
    const isKnown = dips.some(
      (dip) => dip.place === place && Math.abs(Math.log2(dip.frequencyHz / frequencyHz)) < 1 / 8,
    )
    if (!isKnown) dips.push({ place, frequencyHz, depthDb })
  }
  return dips.sort((a, b) => b.depthDb - a.depthDb)
}

/** Where a dip has half of its depth on both sides, in bands and parts of them. */
function halfDepth(rest: (number | null)[], band: number, side: number, depthDb: number): [number, number] {
  const edge = (step: 1 | -1): number => {
    let at = band
    while (side * (rest[at + step] ?? 0) > depthDb / 2) at += step
    const inside = side * (rest[at] ?? 0)
    const outside = side * (rest[at + step] ?? 0)
    return at + step * ((inside - depthDb / 2) / Math.max(1e-9, inside - outside))
  }
  return [edge(-1), edge(1)]
}

const frequencyAt = (position: number): number => (detailBands[0]?.centreHz as number) * 10 ** ((0.3 * position) / 24)
