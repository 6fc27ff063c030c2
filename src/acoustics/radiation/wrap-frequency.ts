import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/** How far the rear is under the front where we say that a box has stopped wrapping, dB. Our definition. */
export const wrapDropDb = 6

/**
 * Where a box stops wrapping its sound round: the lowest frequency at which the rear falls through `dropDb` under the
 * front. Between two of the given frequencies the level runs (against log frequency) on a parabola through them and the one
 * below; between the first two on a straight line. By third octaves that is within 1 % of a search by 1/24 octave for boxes
 * of two-ways and subs, where a straight line is up to 2.5 % low.
 *
 * Edges make the rear ripple, so it may come back above that level for a while higher up; the first crossing counts.
 *
 * @param frequenciesHz    rising, at least two, above 0 Hz
 * @param rearReFrontDb    level behind re the front at each of them, far field, dB
 * @param dropDb           above 0 to 60 dB; ours is 6
 * @returns                Hz; 'below' if the rear is that far down at the lowest frequency already, 'above' if it never is
 * @throws RangeError      for arguments outside these ranges or lists of unequal length
 * Source: our own definition; no published limit.
 */
export function wrapFrequencyHz(
  frequenciesHz: readonly number[],
  rearReFrontDb: readonly number[],
  dropDb: number = wrapDropDb,
): number | 'below' | 'above' {
  requireInRange('dropDb', dropDb, { above: 0, max: 60, unit: 'dB' })
  requireInRange('frequenciesHz.length', frequenciesHz.length, { min: 2 })
  requireInRange('rearReFrontDb.length', rearReFrontDb.length, {
    min: frequenciesHz.length,
    max: frequenciesHz.length,
  })
  for (const [i, frequencyHz] of frequenciesHz.entries()) {
    requireInRange(`frequenciesHz[${i}]`, frequencyHz, { above: frequenciesHz[i - 1] ?? 0, unit: 'Hz' })
    const levelDb = requireInRange(`rearReFrontDb[${i}]`, rearReFrontDb[i] as number, { unit: 'dB' })
    if (levelDb > -dropDb) continue
    if (i === 0) return 'below'
    const points = [i - 2, i - 1, i].flatMap((at): [number, number][] =>
      at < 0 ? [] : [[Math.log(frequenciesHz[at] as number), (rearReFrontDb[at] as number) + dropDb]],
    )
    return Math.exp(crossing(points))
  }
  return 'above'
}

/** Where the parabola (or the line) through the last points crosses 0 between the last two; the first of them is above 0, the last is not. */
function crossing(points: [number, number][]): number {
  const [[x2, y2], [x1, y1], before] = points.reverse() as [[number, number], [number, number], [number, number]?]
  const slope = (y2 - y1) / (x2 - x1)
  const bend = before ? (slope - (y1 - before[1]) / (x1 - before[0])) / (x2 - before[0]) : 0
  // y = y1 + b u + a u², u = x − x1: the smaller positive root, in the form that does not cancel.
  const b = slope - bend * (x2 - x1)
  return x1 + (2 * y1) / (-b + Math.sqrt(b * b - 4 * bend * y1))
}

/**
 * The two rules of thumb for the frequency from which a box of a given width casts a shadow:
 *
 *   wavelength = width:  f = c / d        ka = 1 with a = d/2:  f = c / (π d)
 *
 * @param widthM  d, 0.01 … 10 m
 * @param air     the medium
 * @returns       Hz each
 * @throws RangeError for arguments outside these ranges
 * Source: common practice, no source.
 */
export function wrapRulesHz(widthM: number, air: Air): { wavelengthIsWidthHz: number; kaIsOneHz: number } {
  requireInRange('widthM', widthM, { min: 0.01, max: 10, unit: 'm' })
  requireAir(air)
  return {
    wavelengthIsWidthHz: air.speedOfSoundMps / widthM,
    kaIsOneHz: air.speedOfSoundMps / (Math.PI * widthM),
  }
}
