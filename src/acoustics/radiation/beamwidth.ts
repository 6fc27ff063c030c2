import { requireInRange } from '../numeric-range.ts'

/** Half the pressure, the drop that coverage angles are stated for: 20 lg 2 = 6.02 dB. */
const halfPressureDb = 20 * Math.log10(2)

/** Halvings of a step; 30 leave 2e-11 rad of a step of 1°. */
const halvings = 30

/**
 * Beamwidth of a pattern in one plane: the angle between the two directions, one on either side of the axis, in which the
 * level has first fallen so many dB below the axis.
 *
 * @param levelDb  level as a function of the angle from the axis, rad, any reference; −Infinity (a null) is a level too
 * @param options  dropDb      fall that bounds the beam, above 0, default half the pressure (6.02 dB)
 *                 limitRad    how far out to look, above 0 to π; default π/2, the front half
 *                 stepRad     step of the search, above 0; default 1°. A dip narrower than a step may be missed
 *                 symmetric   true if both sides are known to be alike: then only the positive side is looked at
 * @returns  rad, 0 … 2 limitRad; undefined if the level is not down by dropDb on both sides anywhere within the limit,
 *           as of a source that radiates all round
 * @throws RangeError  for options out of range, a level on the axis that is not finite, or any level that is no number
 * Source: the definition; 6 dB is the trade's usual drop for coverage angles (common practice).
 */
export function beamwidthRad(
  levelDb: (angleRad: number) => number,
  options: { dropDb?: number; limitRad?: number; stepRad?: number; symmetric?: boolean } = {},
): number | undefined {
  const { dropDb = halfPressureDb, limitRad = Math.PI / 2, stepRad = Math.PI / 180, symmetric = false } = options
  requireInRange('dropDb', dropDb, { above: 0, unit: 'dB' })
  requireInRange('limitRad', limitRad, { above: 0, max: Math.PI, unit: 'rad' })
  requireInRange('stepRad', stepRad, { above: 0, max: Math.PI, unit: 'rad' })
  const edgeDb = requireInRange('level on the axis', levelDb(0), { unit: 'dB' }) - dropDb

  const isDown = (angleRad: number) => {
    const level = levelDb(angleRad)
    if (Number.isNaN(level)) throw new RangeError(`level at ${angleRad} rad is NaN; allowed is a level in dB`)
    return level <= edgeDb
  }
  const edgeRad = (side: 1 | -1): number | undefined => {
    const steps = Math.ceil(limitRad / stepRad)
    for (let step = 1; step <= steps; step++) {
      let outRad = Math.min(limitRad, step * stepRad)
      if (!isDown(side * outRad)) continue
      let inRad = (step - 1) * stepRad
      for (let round = 0; round < halvings; round++) {
        const middleRad = (inRad + outRad) / 2
        if (isDown(side * middleRad)) outRad = middleRad
        else inRad = middleRad
      }
      return outRad
    }
    return undefined
  }

  const right = edgeRad(1)
  if (right === undefined || symmetric) return right === undefined ? undefined : 2 * right
  const left = edgeRad(-1)
  return left === undefined ? undefined : left + right
}
