import { type Air, amplitudeLevelDb, magnitude } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { type Arrivals, answerKnotsHz, arrivalsIn, wallField } from './wall-arrivals.ts'
import { type WallScene, wallChartHz, wallRange } from './wall-terms.ts'

/** Where the wall takes or gives most in front: the frequency and by how much, dB. */
export type WallExtreme = { frequencyHz: number; changeDb: number }

/** How far the wall's change at its dips and rises must go to count, dB. */
const worthNamingDb = 1

/** Dips and rises of 1 dB or more, from the lowest up: found on a grid of 1/48 octave, then closer by golden section. */
function extremesOf({ both, without }: Arrivals, sign: 1 | -1): WallExtreme[] {
  const changeDb = (lg: number) => amplitudeLevelDb(magnitude(both(2 ** lg)) / magnitude(without(2 ** lg)))
  const [from, to] = [Math.log2(wallChartHz.min), Math.log2(wallChartHz.max)]
  const steps = Math.ceil(48 * (to - from))
  const grid = Array.from({ length: steps + 1 }, (_, step) => from + ((to - from) * step) / steps)
  const heights = grid.map((lg) => sign * changeDb(lg))
  return heights.flatMap((height, i) => {
    const [before, after] = [heights[i - 1], heights[i + 1]]
    if (before === undefined || after === undefined) return []
    if (height <= before || height < after || height < worthNamingDb) return []
    const lg = peakBetween((x) => sign * changeDb(x), grid[i - 1] as number, grid[i + 1] as number)
    return [{ frequencyHz: 2 ** lg, changeDb: changeDb(lg) }]
  })
}

/** The lowest dip, and the lowest rise above it (or of all, without a dip). */
export function wallExtremes(arrivals: Arrivals): { dip: WallExtreme | null; rise: WallExtreme | null } {
  const dip = extremesOf(arrivals, -1)[0] ?? null
  const rise = extremesOf(arrivals, 1).find(({ frequencyHz }) => frequencyHz > (dip?.frequencyHz ?? 0)) ?? null
  return { dip, rise }
}

/**
 * What the wall changes in front, at frequencies from 25 to 500 Hz, dB, and every dip of 1 dB or more in that range.
 *
 * @throws RangeError as wallAnswer
 */
export function wallChanges(
  scene: WallScene & { frontM: number },
  frequenciesHz: readonly number[],
): { changesDb: number[]; dips: WallExtreme[] } {
  requireInRange('frontM', scene.frontM, { ...wallRange.frontM, unit: 'm' })
  const place = { xM: 0, yM: earHeightM, zM: scene.frontM }
  const front = arrivalsIn(wallField(scene), place, answerKnotsHz)
  return {
    changesDb: frequenciesHz.map((frequencyHz) => {
      requireInRange('frequencyHz', frequencyHz, { ...wallChartHz, unit: 'Hz' })
      return amplitudeLevelDb(magnitude(front.both(frequencyHz)) / magnitude(front.without(frequencyHz)))
    }),
    dips: extremesOf(front, -1),
  }
}

/** The abscissa of a peak between two others, by golden section. */
function peakBetween(of: (x: number) => number, low: number, high: number): number {
  const golden = (Math.sqrt(5) - 1) / 2
  let [from, to] = [low, high]
  for (let round = 0; round < 30; round++) {
    const [left, right] = [to - golden * (to - from), from + golden * (to - from)]
    if (of(left) > of(right)) to = right
    else from = left
  }
  return (from + to) / 2
}

/** The wall's distance by which the rule would give the computed dip, less the true one, m; the rule's odd number is the nearest one. */
export function seemsFartherM(dipHz: number, thereAndBackM: number, air: Air): number {
  const halfWavesM = air.speedOfSoundMps / (2 * dipHz)
  const odd = 2 * Math.round((thereAndBackM / halfWavesM - 1) / 2) + 1
  return (odd * halfWavesM - thereAndBackM) / 2
}
