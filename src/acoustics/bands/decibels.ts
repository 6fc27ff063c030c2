import { requireInRange } from '../numeric-range.ts'

/**
 * Level of a ratio of powers, energies or mean squares:  L = 10 lg r
 *
 * @param powerRatio  dimensionless, 0 or more
 * @returns  dB; −Infinity for 0
 * @throws   RangeError if the ratio is negative or not finite
 */
export function levelDb(powerRatio: number): number {
  return 10 * Math.log10(requireInRange('powerRatio', powerRatio, { min: 0 }))
}

/**
 * Level of a ratio of amplitudes (pressures, voltages):  L = 20 lg r
 *
 * @param amplitudeRatio  dimensionless, 0 or more
 * @returns  dB; −Infinity for 0
 * @throws   RangeError if the ratio is negative or not finite
 */
export function amplitudeLevelDb(amplitudeRatio: number): number {
  return 20 * Math.log10(requireInRange('amplitudeRatio', amplitudeRatio, { min: 0 }))
}

/**
 * Ratio of amplitudes from a level:  r = 10^(L/20)
 *
 * @param ratioDb  dB, up to 3000; −Infinity (silence) gives 0
 * @returns  dimensionless, 0 or more
 * @throws   RangeError if the level is NaN or above 3000 dB
 */
export function amplitudeRatio(ratioDb: number): number {
  return 10 ** (requireLevel('ratioDb', ratioDb) / 20)
}

/**
 * Level of the summed energies of incoherent parts:  L = 10 lg Σ 10^(Lᵢ/10)
 *
 * @param levelsDb  dB each, up to 3000; −Infinity is silence
 * @returns  dB; −Infinity if every part is silent or there is none
 * @throws   RangeError if a level is NaN or above 3000 dB
 */
export function energySumDb(levelsDb: ArrayLike<number>): number {
  // Levels are taken relative to the highest, so that very low levels do not vanish.
  let highest = -Infinity
  for (let i = 0; i < levelsDb.length; i++) {
    highest = Math.max(highest, requireLevel(`levelsDb[${i}]`, levelsDb[i] ?? Number.NaN))
  }
  if (highest === -Infinity) return -Infinity
  let sum = 0
  for (let i = 0; i < levelsDb.length; i++) sum += 10 ** (((levelsDb[i] ?? -Infinity) - highest) / 10)
  return highest + 10 * Math.log10(sum)
}

/**
 * Energy average of levels:  L = 10 lg ( (1/n) Σ 10^(Lᵢ/10) )
 *
 * @param levelsDb  dB each, up to 3000, at least one; −Infinity is silence
 * @returns  dB; −Infinity if every part is silent
 * @throws   RangeError if there is no level, or a level is NaN or above 3000 dB
 */
export function energyAverageDb(levelsDb: ArrayLike<number>): number {
  requireInRange('levelsDb.length', levelsDb.length, { min: 1 })
  return energySumDb(levelsDb) - 10 * Math.log10(levelsDb.length)
}

function requireLevel(name: string, level: number): number {
  return level === -Infinity ? level : requireInRange(name, level, { max: 3000, unit: 'dB' })
}
