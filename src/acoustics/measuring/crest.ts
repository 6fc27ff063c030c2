import { type BlockLevels, bandRows } from './block-levels.ts'
import { median } from './median.ts'

/**
 * How far the peaks of steady noise stand above its level: the median over the kept blocks of peak over root mean square, 25 Hz to 16 kHz.
 *
 * The largest magnitude m of n independent values of normal distribution lies where 2 n Q(m) is about ln 2, in units of the root mean
 * square: in a second 11 dB for a bandwidth of 200 Hz and 12.5 dB for 10 kHz. What limits or clips takes peaks off, and lets less.
 *
 * @param levels   a recording's blocks
 * @param channel  from 0
 * @param kept     true for the blocks that count, one a block; all unless given
 * @returns  dB; null without a kept block, or for silence
 * @throws RangeError if there is no such channel
 * Source:   the distribution of the largest of n values, any textbook of statistics.
 */
export function crestDb(levels: BlockLevels, channel: number, kept?: readonly boolean[]): number | null {
  const rows = bandRows(levels, channel)
  const found = rows.flatMap((row, block) => {
    const power = row.reduce((sum, band) => sum + band, 0)
    const peak = levels.peaks[block * levels.channelCount + channel] as number
    if (kept?.[block] === false || !(power > 0) || !(peak > 0)) return []
    return [10 * Math.log10((peak * peak) / power)]
  })
  return found.length > 0 ? median(found) : null
}

/** Less than this is no noise as it was played: something takes its peaks off, dB. A decibel below noise of 200 Hz bandwidth; no source. */
export const leastCrestDb = 10
