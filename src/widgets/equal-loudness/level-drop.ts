import { contourLevelDb, loudnessLevelPhon, sonesFromPhons } from '../../acoustics/index.ts'

/** How far both tones drop, dB. */
export const dropDb = 10

/** A tone before and after it drops by `dropDb`. */
export type LevelDrop = {
  frequencyHz: number
  /** dB re 20 µPa */
  levelDb: { before: number; after: number }
  phon: { before: number; after: number }
  sones: { before: number; after: number }
}

/** A tone of a loudness level, and what 10 dB less makes of it. */
export function levelDrop(phon: number, frequencyHz: number): LevelDrop {
  const before = contourLevelDb(phon, frequencyHz)
  const after = loudnessLevelPhon(before - dropDb, frequencyHz)
  return {
    frequencyHz,
    levelDb: { before, after: before - dropDb },
    phon: { before: phon, after },
    sones: { before: sonesFromPhons(phon), after: sonesFromPhons(after) },
  }
}
