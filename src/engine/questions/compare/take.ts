import {
  type BlockLevels,
  bandAverages,
  confidenceOf,
  detailAverages,
  leftOutBlocks,
  pairedDifference,
  weightings,
} from '../../../acoustics/index.ts'
import { bassHz, trebleHz } from '../../scene/third-octaves.ts'
import type { Take, TakeChannel } from './compare-terms.ts'

/** Bands that have to be sure, nominal Hz: what the sentences speak of. */
const interestHz = { from: bassHz.from, to: trebleHz.to }

/**
 * What is kept of an analysed recording: faults are left out, the rest averaged.
 *
 * @param levels  all its blocks, of one or two channels
 * @returns  one TakeChannel for each channel
 */
export function takeSummary({ levels }: { levels: BlockLevels }): Take {
  const { sampleRateHz, durationS, channelCount, blockCount, hopS, windowS, clippedSamples } = levels
  const { kept, faults } = leftOutBlocks(levels)
  const keptCount = kept.filter(Boolean).length
  const keptS = keptCount === 0 ? 0 : Math.min(durationS, keptCount * hopS + (windowS - hopS))
  const channels = Array.from({ length: channelCount }, (_, channel): TakeChannel => {
    const { estimates } = bandAverages(levels, channel, kept)
    let peak = 0
    for (let block = 0; block < blockCount; block++) {
      peak = Math.max(peak, levels.peaks[block * channelCount + channel] as number)
    }
    return {
      levels: estimates,
      detail: detailAverages(levels, channel, kept),
      aWeightedDb: wholeDb(levels, channel, kept, 'A'),
      cWeightedDb: wholeDb(levels, channel, kept, 'C'),
      peak,
      confidence: confidenceOf(estimates, keptS, interestHz),
    }
  })
  const paired = channelCount === 2 ? pairedDifference(levels, [0, 1], kept) : null
  return { sampleRateHz, durationS, keptS, channels, paired, faults, clippedSamples }
}

function wholeDb(
  { weightedPowers, channelCount }: BlockLevels,
  channel: number,
  kept: readonly boolean[],
  weighting: keyof typeof weightings,
): number | null {
  let sum = 0
  let count = 0
  for (const [block, isKept] of kept.entries()) {
    if (!isKept) continue
    sum += weightedPowers[2 * (block * channelCount + channel) + weightings[weighting]] as number
    count += 1
  }
  return sum > 0 ? 10 * Math.log10(sum / count) : null
}
