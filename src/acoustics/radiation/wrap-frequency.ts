import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'

/** How far the rear is under the front where we say that a box has stopped wrapping, dB. Our definition. */
export const wrapDropDb = 6

/**
 * Where a box stops wrapping its sound round: the lowest frequency at which the rear falls through `dropDb` under the
 * front, on a straight line between the given frequencies (level against log frequency).
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
  let lowerHz = 0
  let lowerDb = 0
  for (let i = 0; i < frequenciesHz.length; i++) {
    const frequencyHz = requireInRange(`frequenciesHz[${i}]`, frequenciesHz[i] as number, {
      above: lowerHz,
      unit: 'Hz',
    })
    const levelDb = requireInRange(`rearReFrontDb[${i}]`, rearReFrontDb[i] as number, { unit: 'dB' })
    if (levelDb <= -dropDb) {
      if (i === 0) return 'below'
      const share = (lowerDb + dropDb) / (lowerDb - levelDb)
      return lowerHz * (frequencyHz / lowerHz) ** share
    }
    lowerHz = frequencyHz
    lowerDb = levelDb
  }
  return 'above'
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
