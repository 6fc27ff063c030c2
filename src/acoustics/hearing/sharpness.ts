import {
  loudnessBelowBark,
  requireSpecificLoudness,
  samplesPerBark,
  specificLoudnessCount,
} from './specific-loudness.ts'

/** Makes the standard's reference sound 1 acum: noise one critical band wide at 1 kHz, 60 dB. The standard allows 0.105 to 0.115. */
export const sharpnessUnit = 0.10945

/**
 * Sharpness, how much of the loudness lies high up:  S = k ∫ N′(z) g(z) z dz / ∫ N′(z) dz  over 0 to 24 Bark,
 *   g = 1 up to 15.8 Bark,  g = 0.15 e^(0.42 (z − 15.8)) + 0.85 above.
 *
 * @param specific  240 samples of specific loudness, sone/Bark, as from `zwickerLoudness`
 * @returns  acum; 0 for silence
 * @throws   RangeError if there are not 240 samples, or one is negative or not finite
 * Source:   DIN 45692:2009, Equation (1).
 * Accuracy: the 41 noises of the standard's Annex A within its tolerance of 5 % or 0.05 acum.
 */
export function sharpnessAcum(specific: Float64Array): number {
  const sones = loudnessBelowBark(requireSpecificLoudness(specific), specificLoudnessCount / samplesPerBark)
  if (sones === 0) return 0
  let moment = 0
  for (let i = 0; i < specificLoudnessCount; i++) moment += (specific[i] as number) * (weightedBark[i] as number)
  return (sharpnessUnit * moment) / samplesPerBark / sones
}

/** g(z) z at each sample, Bark. */
const weightedBark = Float64Array.from({ length: specificLoudnessCount }, (_, i) => {
  const z = (i + 1) / samplesPerBark
  return z <= 15.8 ? z : z * (0.15 * Math.exp(0.42 * (z - 15.8)) + 0.85)
})
