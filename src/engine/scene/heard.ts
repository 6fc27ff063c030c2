import {
  aWeightingDb,
  bassShare,
  cWeightingDb,
  loudnessBands,
  loudnessBelowHz,
  weightedLevelDb,
  zwickerLoudness,
} from '../../acoustics/index.ts'
import { heardBands } from './third-octaves.ts'

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

/** Highest third-octave level that the loudness method takes in the bass, dB re 20 µPa. */
const highestBandDb = 120

/**
 * What the ear makes of several places.
 *
 * @param levels  levels of heardBands of each, dB
 * @param liftDb  what brings them to dB re 20 µPa, see liftDb
 * @returns       null if a third octave of one of them passes what the loudness method takes
 * @throws RangeError  as heard
 */
export function heardPlaces<Place extends string>(
  levels: Record<Place, Float64Array>,
  liftDb: number,
  field: 'free' | 'diffuse',
): Record<Place, Heard> | null {
  const places = Object.entries(levels) as [Place, Float64Array][]
  if (Math.max(...places.flatMap(([, levelsDb]) => Array.from(levelsDb))) + liftDb > highestBandDb) return null
  return Object.fromEntries(
    places.map(([place, levelsDb]) => [
      place,
      heard(
        levelsDb.map((level) => level + liftDb),
        field,
      ).heard,
    ]),
  ) as Record<Place, Heard>
}
