import { type BlockLevels, bandRows } from './block-levels.ts'
import { type BandEstimates, dbPerShare, type Estimate, halfIntervalDb } from './estimate.ts'
import { recordingBands } from './recording-bands.ts'

/** Correlation of the powers of two neighbouring blocks that share half of their Hann windows, of steady noise. Source: Welch 1967. */
const neighbourCorrelation = 1 / 36
/** Blocks further apart than these count as independent. */
const mostLags = 4
/** Bands of one group share their correlation; one band alone has too few blocks to tell it. Nominal frequencies where groups end, Hz. */
const groupEndsHz = [160, 1600, 16000]
/** Fewer blocks give no error worth the name. */
export const fewestBlocks = 5
/** The smallest error that is told, dB: below it nothing that is assumed here holds. */
const leastErrorDb = 0.01

/** Averages of the kept blocks of one or two channels. */
export type BandAverages = {
  estimates: BandEstimates
  /** How many blocks were kept. */
  blockCount: number
}

/**
 * Level of each third octave of a channel over the kept blocks: the mean of the power, its standard error from the spread of the blocks,
 * with the correlation of neighbouring blocks.
 *
 *   u² = (s²/n) (1 + 2 Σ ρ_k (1 − k/n)),  k = 1 … 4
 *
 * s² is the variance of a band's blocks, ρ_k the correlation of kept blocks k apart, pooled over a group of bands, at least
 * 1/36 for k = 1, and 0 where it is not distinct from 0. Degrees of freedom: the number of independent blocks less one. For steady noise
 * u is near 4.34 dB/√(BT), the spread of 2BT degrees of freedom in bandwidth B and time T.
 *
 * @param levels   a recording's blocks
 * @param channel  from 0
 * @param kept     true for the blocks that count, one a block; all unless given
 * @returns  dB re full scale; no estimate for a band that is not held, is silent, or has fewer than five kept blocks
 * @throws RangeError if there is no such channel
 */
export function bandAverages(levels: BlockLevels, channel: number, kept?: readonly boolean[]): BandAverages {
  const blocks = keptBlocks(levels, kept)
  const spread = spreadOf(bandRows(levels, channel), blocks, levels.bandCount)
  const { means, shares } = spread
  const inflations = inflationsOf(shares, blocks, levels.bandCount)
  const estimates = recordingBands.map((_, band): Estimate | null => {
    const mean = means[band]
    if (mean === undefined || !(mean > 0) || blocks.length < fewestBlocks) return null
    const { errorDb, freedom } = errorOf(shares[band] as Float64Array, inflations[band] as number)
    return { levelDb: 10 * Math.log10(mean), errorDb, freedom }
  })
  return { estimates, blockCount: blocks.length }
}

/**
 * Level difference of two channels of one recording in each third octave, first less second, over the kept blocks. What rises and falls
 * in both at once cancels, so that its error is often smaller than that of either.
 *
 * @param levels    a recording's blocks
 * @param channels  first and second, from 0
 * @param kept      as in bandAverages
 * @returns  dB; no estimate as in bandAverages
 * @throws RangeError if there is no such channel
 */
export function pairedDifference(
  levels: BlockLevels,
  channels: readonly [number, number],
  kept?: readonly boolean[],
): BandEstimates {
  const blocks = keptBlocks(levels, kept)
  const [first, second] = channels.map((channel) => spreadOf(bandRows(levels, channel), blocks, levels.bandCount))
  if (!first || !second) return []
  // The logarithm of a ratio of means varies as the difference of the two relative deviations.
  const shares = first.shares.map((of, band) => of.map((share, i) => share - (second.shares[band]?.[i] as number)))
  const inflations = inflationsOf(shares, blocks, levels.bandCount)
  return recordingBands.map((_, band): Estimate | null => {
    const [above, below] = [first.means[band], second.means[band]]
    if (above === undefined || below === undefined || !(above > 0) || !(below > 0)) return null
    if (blocks.length < fewestBlocks) return null
    const { errorDb, freedom } = errorOf(shares[band] as Float64Array, inflations[band] as number)
    return { levelDb: 10 * Math.log10(above / below), errorDb, freedom }
  })
}

/** How sure an average is, and whether more of it is wanted. */
export type Confidence = {
  /** Half of the widest 95 % interval of the bands of interest, dB, and which band that is, nominal Hz; null with no estimate yet. */
  widest: { halfDb: number; nominalHz: number } | null
  isEnough: boolean
  /** About how much longer it has to go on until it is enough, s; null while nothing can be said. */
  furtherS: number | null
}

/** An average is enough when no band of interest is less sure than this, dB. */
export const enoughDb = 1

/**
 * Whether an average is sure enough: the widest 95 % interval of the bands of interest is no more than ±1 dB.
 *
 * @param estimates  of recordingBands
 * @param durationS  how long the kept part of the recording is, s
 * @param range      nominal frequencies of the bands of interest, Hz
 */
export function confidenceOf(
  estimates: BandEstimates,
  durationS: number,
  range: { from: number; to: number },
): Confidence {
  let widest: Confidence['widest'] = null
  for (const [band, { nominalHz }] of recordingBands.entries()) {
    const estimate = estimates[band]
    if (!estimate || nominalHz < range.from || nominalHz > range.to) continue
    const halfDb = halfIntervalDb(estimate)
    if (!widest || halfDb > widest.halfDb) widest = { halfDb, nominalHz }
  }
  if (!widest) return { widest, isEnough: false, furtherS: null }
  const furtherS = Math.max(0, durationS * ((widest.halfDb / enoughDb) ** 2 - 1))
  return { widest, isEnough: widest.halfDb <= enoughDb, furtherS }
}

function keptBlocks({ blockCount }: BlockLevels, kept: readonly boolean[] | undefined): number[] {
  return Array.from({ length: blockCount }, (_, block) => block).filter((block) => kept?.[block] ?? true)
}

/** Means of the bands over some blocks, and by what share of it each block lies above it. */
function spreadOf(
  rows: Float64Array[],
  blocks: number[],
  bandCount: number,
): { means: number[]; shares: Float64Array[] } {
  const means = Array.from(
    { length: bandCount },
    (_, band) => blocks.reduce((sum, block) => sum + (rows[block]?.[band] as number), 0) / blocks.length,
  )
  const shares = means.map((mean, band) =>
    Float64Array.from(blocks, (block) => (mean > 0 ? (rows[block]?.[band] as number) / mean - 1 : 0)),
  )
  return { means, shares }
}

function errorOf(shares: Float64Array, inflation: number): Pick<Estimate, 'errorDb' | 'freedom'> {
  const n = shares.length
  const mean = shares.reduce((sum, share) => sum + share, 0) / n
  const variance = shares.reduce((sum, share) => sum + (share - mean) ** 2, 0) / (n - 1)
  const errorDb = Math.max(leastErrorDb, dbPerShare * Math.sqrt((variance * inflation) / n))
  return { errorDb, freedom: Math.max(1, n / inflation - 1) }
}

/** By how much correlation widens the variance of each band's mean. */
function inflationsOf(shares: Float64Array[], blocks: number[], bandCount: number): number[] {
  const n = blocks.length
  const ofGroup = groupEndsHz.map((endHz, group) => {
    const beginHz = groupEndsHz[group - 1] ?? 0
    const bands = recordingBands
      .slice(0, bandCount)
      .flatMap(({ nominalHz }, band) => (nominalHz > beginHz && nominalHz <= endHz ? [band] : []))
    let inflation = 1
    for (let lag = 1; lag <= Math.min(mostLags, n - 1); lag++) {
      const found = correlation(
        bands.map((band) => shares[band] as Float64Array),
        blocks,
        lag,
      )
      const distinct = found && found.value > 2 / Math.sqrt(found.pairs) ? found.value : 0
      inflation += 2 * Math.max(distinct, lag === 1 ? neighbourCorrelation : 0) * (1 - lag / n)
    }
    return inflation
  })
  return Array.from({ length: bandCount }, (_, band) => {
    const group = groupEndsHz.findIndex((endHz) => (recordingBands[band]?.nominalHz as number) <= endHz)
    return ofGroup[group] ?? 1
  })
}

/** Correlation of kept blocks so far apart, over all bands of a group, and from how many pairs; undefined without a pair. */
function correlation(
  bands: Float64Array[],
  blocks: number[],
  lag: number,
): { value: number; pairs: number } | undefined {
  let product = 0
  let square = 0
  let pairs = 0
  let later = 0
  for (let i = 0; i < blocks.length; i++) {
    const wanted = (blocks[i] as number) + lag
    while (later < blocks.length && (blocks[later] as number) < wanted) later += 1
    const isPair = blocks[later] === wanted
    for (const shares of bands) {
      square += (shares[i] as number) ** 2 / blocks.length
      if (isPair) product += (shares[i] as number) * (shares[later] as number)
    }
    if (isPair) pairs += 1
  }
  return pairs > 0 && square > 0 ? { value: product / pairs / square, pairs: pairs * bands.length } : undefined
}
