import { bassHz, spectrumBands } from '../../scene/third-octaves.ts'

// The terms that pages and widgets share with the blind comparison, without fetching the calculation itself.

/**
 * The stages, in order: everything at its true level; everything, matched in loudness; the bass alone, matched in loudness.
 */
export const blindStages = ['true-level', 'matched', 'bass-alone'] as const
export type BlindStage = (typeof blindStages)[number]

/** Where the bass is cut off for the last stage, Hz (our choice: the top of what the site calls bass). */
export const bassAloneHz = bassHz.to

/** Differences of the third octaves of the bass, here minus front, dB: the lowest and the highest. */
export function bassDifferencesDb({ hereDb, frontDb }: { hereDb: number[]; frontDb: number[] }): {
  least: number
  most: number
} {
  const differences = spectrumBands.flatMap(({ nominalHz }, index) =>
    nominalHz >= bassHz.from && nominalHz <= bassHz.to ? [(hereDb[index] as number) - (frontDb[index] as number)] : [],
  )
  return { least: Math.min(...differences), most: Math.max(...differences) }
}
