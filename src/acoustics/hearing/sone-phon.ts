import { requireInRange } from '../numeric-range.ts'

/**
 * Loudness level from loudness:  L_N = 40 + 10 log₂ N  for N ≥ 1 sone,  L_N = 40 (N + 0.0005)^0.35, not below 3, for N < 1.
 *
 * @param sones  loudness, 0 or more, sone
 * @returns  phon, 3 or more: silence gives 3, the least value of the standard's rule. Just below 1 sone the two rules miss each
 *           other by 0.007 phon (40.007 against 40).
 * @throws   RangeError if the loudness is negative or not finite
 * Source:   ISO 532-1:2017, the method for stationary sounds.
 */
export function phonsFromSones(sones: number): number {
  requireInRange('sones', sones, { min: 0, unit: 'sone' })
  return sones >= 1 ? 40 + 10 * Math.log2(sones) : Math.max(3, 40 * (sones + 0.0005) ** 0.35)
}

/**
 * Loudness from loudness level, the inverse of `phonsFromSones`:  N = 2^((L_N − 40)/10)  from 40 phon,
 * N = (L_N/40)^(1/0.35) − 0.0005, not below 0, under it. Ten phon more is twice as loud from 40 phon up; below, less will do.
 *
 * @param phons  loudness level, 0 … 200 phon
 * @returns  sone, 0 or more
 * @throws   RangeError if the loudness level is out of range
 * Source:   ISO 532-1:2017, the method for stationary sounds, solved for N.
 */
export function sonesFromPhons(phons: number): number {
  requireInRange('phons', phons, { min: 0, max: 200, unit: 'phon' })
  return phons >= 40 ? 2 ** ((phons - 40) / 10) : Math.max(0, (phons / 40) ** (1 / 0.35) - 0.0005)
}
