import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * Lanes of strong and weak bass before two equal sources a distance apart, for instance a sub left and a sub right: where a
 * straight walk across, parallel to the line that joins the sources, meets them. A lane is where both arrive in step, or half
 * a wave out of step: the left one's way less the right one's is
 *
 *   δ = cτ + nλ  (strong),   δ = cτ + (n + ½) λ  (weak),   n = 0, ±1, ±2, …,   |δ| < s
 *
 * A constant δ is a hyperbola with the sources as foci; at the distance D it has the offset from the middle line
 *
 *   x = (δ/2) √(1 + D²/((s/2)² − (δ/2)²))
 *
 * exact at every distance. The level has its extremes nearby and not quite there, because one source is nearer than the other:
 * for sources 8 m apart and a walk at 5 m, 40 … 125 Hz, the dips between the sources lie within 0.15 m of their lanes. Beyond
 * the outer source one arrival outweighs the other: the lanes fade there, and the extremes stray by some tenths of a metre.
 *
 * In no figure: the textbook's lanes, which those of a figure are held against, and where the words say that both are in step.
 *
 * @param spec  spacingM s, above 0 to 1000 m; distanceM D of the walk from the line that joins the sources, above 0 to 100 000 m;
 *              frequencyHz, 1e-6 Hz up to where s is 1000 wavelengths; delayS τ of the right source, −1 … 1 s, default 0
 * @param air   gives the speed of sound c
 * @returns     strongM and weakM: offsets from the middle line, m, rising, negative to the left; symmetric without a delay
 * @throws RangeError for a value outside its range
 * Source: textbook (two-source interference); the hyperbola is its definition by two foci.
 */
export function interferenceLanesM(
  spec: { spacingM: number; distanceM: number; frequencyHz: number; delayS?: number },
  air: Air,
): { strongM: number[]; weakM: number[] } {
  const { speedOfSoundMps } = requireAir(air)
  const spacingM = requireInRange('spacingM', spec.spacingM, { above: 0, max: 1000, unit: 'm' })
  const distanceM = requireInRange('distanceM', spec.distanceM, { above: 0, max: 1e5, unit: 'm' })
  const highestHz = (mostWavelengths * speedOfSoundMps) / spacingM
  const frequencyHz = requireInRange('frequencyHz', spec.frequencyHz, { min: 1e-6, max: highestHz, unit: 'Hz' })
  const delayS = requireInRange('delayS', spec.delayS ?? 0, { min: -1, max: 1, unit: 's' })
  const wavelengthM = speedOfSoundMps / frequencyHz
  const aheadM = speedOfSoundMps * delayS
  const offsetM = (differenceM: number): number =>
    (differenceM / 2) * Math.sqrt(1 + distanceM ** 2 / (((spacingM - differenceM) * (spacingM + differenceM)) / 4))
  const lanesM = (shift: 0 | 0.5): number[] => {
    const offsets: number[] = []
    const first = Math.ceil((-spacingM - aheadM) / wavelengthM - shift)
    for (let n = first; ; n++) {
      const differenceM = aheadM + (n + shift) * wavelengthM
      if (differenceM >= spacingM) return offsets
      if (differenceM > -spacingM) offsets.push(offsetM(differenceM))
    }
  }
  return { strongM: lanesM(0), weakM: lanesM(0.5) }
}

/** More lanes than anyone would draw; it bounds the work. */
const mostWavelengths = 1000
