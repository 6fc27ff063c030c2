import { withoutBackground } from './background.ts'
import { fewestBlocks } from './band-averages.ts'
import { type BlockLevels, detailRows } from './block-levels.ts'
import { certain, combinedError, dbPerShare, type Estimate } from './estimate.ts'
import { type MicrophoneResponse, microphoneBandLevel } from './microphone-file.ts'
import { detailBands } from './recording-bands.ts'

/** Levels of detailBands, from the lowest; null where there is none. */
export type DetailEstimates = (Estimate | null)[]

/** Variance of a mean of half-overlapping Hann blocks against independent ones: 1 + 2/36. Source: Welch 1967. */
const overlapInflation = 1 + 2 / 36

/**
 * Level of each twenty-fourth octave of a channel over the kept blocks, averaged periodograms. The error is the larger of that from the
 * spread of the blocks and that of steady noise of the band's width: one narrow band alone tells its spread badly.
 *
 * @param levels   a recording's blocks
 * @param channel  from 0
 * @param kept     true for the blocks that count; all unless given
 * @returns  dB re full scale; no estimate for a band that is not held, is silent, or has fewer than five kept blocks
 * @throws RangeError if there is no such channel
 */
export function detailAverages(levels: BlockLevels, channel: number, kept?: readonly boolean[]): DetailEstimates {
  const rows = detailRows(levels, channel).filter((_, block) => kept?.[block] ?? true)
  const n = rows.length
  return detailBands.map(({ lowerHz, upperHz }, band): Estimate | null => {
    if (band >= levels.detailCount || n < fewestBlocks) return null
    const mean = rows.reduce((sum, row) => sum + (row[band] as number), 0) / n
    if (!(mean > 0)) return null
    const variance = rows.reduce((sum, row) => sum + ((row[band] as number) / mean - 1) ** 2, 0) / (n - 1)
    const seconds = n * levels.hopS
    const steady = 1 / Math.max(1, (upperHz - lowerHz) * seconds)
    const errorDb = dbPerShare * Math.sqrt(Math.max((overlapInflation * variance) / n, steady))
    return { levelDb: 10 * Math.log10(mean), errorDb, freedom: Math.max(1, n / overlapInflation - 1) }
  })
}

/** What a detailed comparison is made of, each of detailBands. */
export type ComparedDetail = {
  front: DetailEstimates
  behind: DetailEstimates
  background?: { front: DetailEstimates; behind: DetailEstimates }
  /** Taken off where their files reach, as in third octaves. */
  microphones?: { front?: MicrophoneResponse | undefined; behind?: MicrophoneResponse | undefined }
  /** How much more the microphone behind shows than the one in front, side by side. */
  offset?: DetailEstimates
}

/**
 * Front less behind in twenty-fourth octaves, free of background, microphones and offset, as levelDifference does it in third octaves.
 *
 * @returns  one entry for each of detailBands; null where one of the levels is missing or stands less than 3 dB above its background
 */
export function detailDifference(given: ComparedDetail): DetailEstimates {
  const { front, behind, background, microphones, offset } = given
  return detailBands.map((width, band): Estimate | null => {
    const first = without(front[band], background?.front[band])
    const second = without(behind[band], background?.behind[band])
    const shift = offset ? offset[band] : { levelDb: 0, errorDb: 0, freedom: certain }
    if (!first || !second || !shift) return null
    const own = (place: 'front' | 'behind') => {
      const response = microphones?.[place]
      return (response && microphoneBandLevel(response, width)) ?? 0
    }
    const levelDb = first.levelDb - own('front') - (second.levelDb - own('behind')) + shift.levelDb
    return { levelDb, ...combinedError([first, second, shift]) }
  })
}

function without(total: Estimate | null | undefined, quiet: Estimate | null | undefined): Estimate | null {
  if (!total) return null
  return quiet ? withoutBackground(total, quiet).estimate : total
}
