import { requireInRange } from '../numeric-range.ts'

/** A stretch of at least three samples at one and the same ceiling. */
export type ClippedRun = {
  channel: number
  /** When it begins, s from the beginning of the recording, and how many samples it has. */
  timeS: number
  sampleCount: number
  /** The ceiling, 0 … 1 of full scale. */
  ceiling: number
}

/**
 * What is kept of a recording: mean squares (full scale 1) of blocks, each of `windowS` seconds and begun `hopS` after the one before.
 * The tables are flat, row by row: (block · channelCount + channel) · count + index.
 */
export type BlockLevels = {
  sampleRateHz: number
  channelCount: number
  durationS: number
  windowS: number
  hopS: number
  blockCount: number
  /** How many of recordingBands the sample rate holds, from the lowest. The others are not held. */
  bandCount: number
  /** How many of detailBands it holds. */
  detailCount: number
  /** Mean squares of the third octaves, of the detail bands, and of the whole weighted by A and by C. */
  bandPowers: Float64Array
  detailPowers: Float32Array
  weightedPowers: Float64Array
  /** Highest magnitude of each block and channel. */
  peaks: Float32Array
  /** In order of time; no more than mostClippedRuns. */
  clippedRuns: ClippedRun[]
  /** Samples in clipped runs, also of those that are not listed. */
  clippedSamples: number
}

/** More clipped runs than these are only counted. */
export const mostClippedRuns = 1000

/** Entries of weightedPowers. */
export const weightings = { A: 0, C: 1 } as const

/**
 * Mean squares of one channel in the third octaves, block by block.
 *
 * @returns one array of bandCount for each block, views of the table
 * @throws RangeError if there is no such channel
 */
export function bandRows(levels: BlockLevels, channel: number): Float64Array[] {
  return rowsOf(levels, channel, levels.bandPowers, levels.bandCount)
}

/** The same of the detail bands. */
export function detailRows(levels: BlockLevels, channel: number): Float32Array[] {
  return rowsOf(levels, channel, levels.detailPowers, levels.detailCount)
}

function rowsOf<T extends Float32Array | Float64Array>(
  { channelCount, blockCount }: BlockLevels,
  channel: number,
  table: T,
  count: number,
): T[] {
  requireInRange('channel', channel, { integer: true, min: 0, max: channelCount - 1 })
  return Array.from({ length: blockCount }, (_, block) => {
    const from = (block * channelCount + channel) * count
    return table.subarray(from, from + count) as T
  })
}

/** Span of a block, s from the beginning of the recording. */
export const blockSpanS = ({ hopS, windowS }: BlockLevels, block: number): { fromS: number; toS: number } => ({
  fromS: block * hopS,
  toS: block * hopS + windowS,
})

/**
 * One recording out of parts that were analysed apart. Each part begins a hop after the last block of the part before, so
 * that the blocks follow each other without a gap; what two parts share of a clipped run counts once.
 *
 * @param parts  in order of time, at least one, of the same recording; a part may have no block
 * @throws RangeError if there is none, or rates or channels differ
 */
export function joinedBlocks(parts: readonly BlockLevels[]): BlockLevels {
  const first = parts[0]
  if (!first) throw new RangeError('parts is empty; allowed is at least one')
  for (const [i, { sampleRateHz, channelCount }] of parts.entries()) {
    requireInRange(`parts[${i}].sampleRateHz`, sampleRateHz, { min: first.sampleRateHz, max: first.sampleRateHz })
    requireInRange(`parts[${i}].channelCount`, channelCount, { min: first.channelCount, max: first.channelCount })
  }
  const runs: ClippedRun[] = []
  let clippedSamples = 0
  let startS = 0
  let countedToS = 0
  let durationS = 0
  for (const part of parts) {
    const own = part.clippedRuns
      .map((run) => ({ ...run, timeS: run.timeS + startS }))
      .filter(({ timeS }) => timeS >= countedToS)
    const shared = part.clippedRuns.length - own.length
    runs.push(...own.slice(0, Math.max(0, mostClippedRuns - runs.length)))
    const sharedSamples = part.clippedRuns.slice(0, shared).reduce((sum, { sampleCount }) => sum + sampleCount, 0)
    clippedSamples += part.clippedSamples - sharedSamples
    durationS = startS + part.durationS
    countedToS = durationS
    startS += part.blockCount * part.hopS
  }
  return {
    ...first,
    durationS,
    blockCount: parts.reduce((sum, { blockCount }) => sum + blockCount, 0),
    bandPowers: joined(parts.map((part) => part.bandPowers)),
    detailPowers: joined(parts.map((part) => part.detailPowers)),
    weightedPowers: joined(parts.map((part) => part.weightedPowers)),
    peaks: joined(parts.map((part) => part.peaks)),
    clippedRuns: runs,
    clippedSamples,
  }
}

/** Arrays of one kind, one behind the other. */
function joined<T extends Float32Array | Float64Array>(parts: T[]): T {
  const length = parts.reduce((sum, part) => sum + part.length, 0)
  const whole = (parts[0] instanceof Float32Array ? new Float32Array(length) : new Float64Array(length)) as T
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}
