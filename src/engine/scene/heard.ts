import {
  aWeightingDb,
  bassShare,
  cWeightingDb,
  loudnessBands,
  loudnessBelowHz,
  thirdOctaveBands,
  weightedLevelDb,
  zwickerLoudness,
} from '../../acoustics/index.ts'

/** What the ear makes of a steady sound. */
export type Heard = {
  /** dB(A) and dB(C), re 20 µPa. */
  aWeightedDb: number
  cWeightedDb: number
  /** Loudness and loudness level (ISO 532-1, stationary). */
  sones: number
  phons: number
  /** Loudness of the part below 250 Hz, and its share of the whole, 0 … 1 (ours). */
  bassSones: number
  bassShare: number
}

/** The third octaves that are heard: the 28 of the loudness method and two above them, which only the weightings count. */
export const heardBands = thirdOctaveBands(25, 16000)

/**
 * Everything that the ear makes of third-octave levels.
 *
 * @param levelsDb  levels of heardBands, dB re 20 µPa
 * @param field     'free' outdoors and near a source, 'diffuse' deep in a hall
 * @returns         Heard, and the specific loudness that it comes from, sone/Bark, 240 steps of 0.1 Bark
 * @throws RangeError as zwickerLoudness, or for another number of levels
 */
export function heard(
  levelsDb: ArrayLike<number>,
  field: 'free' | 'diffuse' = 'free',
): { heard: Heard; specific: Float64Array } {
  const loudness = zwickerLoudness(Array.from(levelsDb).slice(0, loudnessBands.length), field)
  return {
    heard: {
      aWeightedDb: weightedLevelDb(levelsDb, heardBands, aWeightingDb),
      cWeightedDb: weightedLevelDb(levelsDb, heardBands, cWeightingDb),
      sones: loudness.sones,
      phons: loudness.phons,
      bassSones: loudnessBelowHz(loudness),
      bassShare: bassShare(loudness.specific),
    },
    specific: loudness.specific,
  }
}
