import { type BlockLevels, bandRows, blockSpanS } from './block-levels.ts'
import { dbPerShare } from './estimate.ts'
import { levelStretches, robustScatter, type Stretch, steadyTrendDb } from './level-steps.ts'
import { median } from './median.ts'
import { recordingBands } from './recording-bands.ts'

/**
 * Something in a recording that is not the steady noise:
 *
 *   talking   more in the bands of speech than in the rest of the recording
 *   bang      a peak far above the others, or a jump outside the bands of speech
 *   clipped   samples at the ceiling
 *   gap       the sound is missing or much weaker for less than a few blocks
 *   step      from here on the level is another one: the volume was changed
 *   trend     the level rises or falls slowly; no blocks are left out for it
 */
export type FaultKind = 'talking' | 'bang' | 'clipped' | 'gap' | 'step' | 'trend'

/** One of them, on one channel: when, and by how many dB it stands out (clipped: at which level; step, trend: later less earlier). */
export type Fault = { kind: FaultKind; channel: number; fromS: number; toS: number; amountDb: number }

/** Nominal frequencies of the bands that talk is looked for in, Hz, and the least of them that have to rise. */
const speechHz = { from: 200, to: 5000 } as const
const fewestSpeechBands = 3
/** By how many times its scatter a band or a group has to stand out, and by how many dB at least. */
const distinct = 7
const leastBandDb = 3
const leastMeanDb = 1
/** Outside the bands of speech: the lowest bands scatter too much to tell. */
const lowestJumpHz = 50
const leastJumpDb = 4
/** A peak is a bang if it is so far above the middle one, dB. The peaks of noise lie within 3 dB. */
const leastPeakDb = 5
const leastGapDb = 1.5
/** Bandwidth of a Hann window in lines: how much of a block's time counts. */
const hannLines = 1.5

/** A fault in one block; for what is heard, how far its peak stands out, dB. */
type Found = { kind: FaultKind; amountDb: number; peakDb?: number }

/** A moment lies in two blocks; what has a peak and is no longer than one more is a bang, whatever it sounds like. */
const longestBang = 3

/**
 * Looks for what does not belong to a steady noise, block by block, against the medians of the recording.
 *
 * @param levels    a recording's blocks; with fewer than five only clipping is found
 * @param channels  which channels count, from 0; all unless given
 * @returns  the faults in order of time, and for each block whether it is kept: true if no fault of any of those channels touches it
 * @throws RangeError if there is no such channel
 */
export function leftOutBlocks(
  levels: BlockLevels,
  channels: readonly number[] = Array.from({ length: levels.channelCount }, (_, channel) => channel),
): { kept: boolean[]; faults: Fault[] } {
  const kept = Array.from({ length: levels.blockCount }, () => true)
  const faults: Fault[] = []
  for (const channel of channels) {
    const rows = bandRows(levels, channel)
    const steady =
      rows.length >= 5 ? steadyFaults(levels, rows, channel) : { byBlock: rows.map(() => undefined), drifts: [] }
    const clipped = clippedBlocks(levels, channel)
    const byBlock = steady.byBlock.map((found, block) => clipped[block] ?? found)
    faults.push(...spans(levels, byBlock, channel), ...steady.drifts)
    for (const [block, found] of byBlock.entries()) if (found) kept[block] = false
  }
  return { kept, faults: faults.sort((a, b) => a.fromS - b.fromS || a.channel - b.channel) }
}

function clippedBlocks(levels: BlockLevels, channel: number): (Found | undefined)[] {
  const { blockCount, hopS, windowS, clippedRuns, sampleRateHz } = levels
  const found: (Found | undefined)[] = Array.from({ length: blockCount })
  for (const run of clippedRuns) {
    if (run.channel !== channel) continue
    const endS = run.timeS + run.sampleCount / sampleRateHz
    const first = Math.max(0, Math.ceil((run.timeS - windowS) / hopS + 1e-9))
    for (let block = first; block < blockCount && block * hopS < endS; block++) {
      found[block] = { kind: 'clipped', amountDb: 20 * Math.log10(run.ceiling) }
    }
  }
  return found
}

function steadyFaults(
  levels: BlockLevels,
  rows: Float64Array[],
  channel: number,
): { byBlock: (Found | undefined)[]; drifts: Fault[] } {
  const { windowS } = levels
  const whole: Stretch = { from: 0, to: rows.length }
  const drift = broadLevels(deviationsDb(rows, [whole]), windowS)
  const trendDb = steadyTrendDb(drift)
  const trend = trendDb !== 0
  const stretches = trend ? [whole] : levelStretches(drift)
  const drifts: Fault[] = []
  const byBlock: (Found | undefined)[] = rows.map(() => undefined)
  if (trend) {
    const toS = blockSpanS(levels, rows.length - 1).toS
    drifts.push({ kind: 'trend', channel, fromS: 0, toS, amountDb: trendDb })
  } else {
    const longest = stretches.reduce((most, each) => (each.to - each.from > most.to - most.from ? each : most))
    const middleDb = median(drift.slice(longest.from, longest.to))
    for (const stretch of stretches) {
      if (stretch === longest) continue
      const amountDb = median(drift.slice(stretch.from, stretch.to)) - middleDb
      for (let block = stretch.from; block < stretch.to; block++) byBlock[block] = { kind: 'step', amountDb }
    }
  }
  const level = trend ? slid(deviationsDb(rows, [whole]), trendDb) : deviationsDb(rows, stretches)
  const peaksDb = rows.map((_, block) => 20 * Math.log10(levels.peaks[block * levels.channelCount + channel] || 1e-12))
  for (const { from, to } of stretches) {
    const middlePeakDb = median(peaksDb.slice(from, to))
    for (let block = from; block < to; block++) {
      const found = outlier(level[block] as number[], (peaksDb[block] as number) - middlePeakDb, windowS)
      byBlock[block] ??= found
    }
  }
  return { byBlock: toldApart(byBlock), drifts }
}

/** Talk lasts, a bang does not: a run of blocks in which something was heard is one or the other as a whole. */
function toldApart(byBlock: readonly (Found | undefined)[]): (Found | undefined)[] {
  const told = byBlock.slice()
  const isHeard = (found: Found | undefined) => found?.kind === 'talking' || found?.kind === 'bang'
  for (let from = 0; from < told.length; from++) {
    if (!isHeard(told[from])) continue
    let to = from
    while (to < told.length && isHeard(told[to])) to += 1
    const run = told.slice(from, to) as Found[]
    const peakDb = Math.max(...run.map((found) => found.peakDb ?? 0))
    const isShort = run.length <= longestBang && peakDb >= leastPeakDb
    const kind = isShort || run.every((found) => found.kind === 'bang') ? 'bang' : 'talking'
    const amountDb = isShort ? peakDb : Math.max(...run.map((found) => found.amountDb))
    told.fill({ kind, amountDb }, from, to)
    from = to
  }
  return told
}

/** Levels of each block against the median of its stretch, band by band, dB. */
function deviationsDb(rows: Float64Array[], stretches: readonly Stretch[]): number[][] {
  const levelsDb = rows.map((row) => Array.from(row, (power) => 10 * Math.log10(Math.max(power, 1e-30))))
  return stretches.flatMap(({ from, to }) => {
    const within = levelsDb.slice(from, to)
    const medians = (within[0] ?? []).map((_, band) => median(within.map((row) => row[band] as number)))
    return within.map((row) => row.map((level, band) => level - (medians[band] as number)))
  })
}

/** The same with a steady rise taken out. */
function slid(deviations: number[][], trendDb: number): number[][] {
  const n = deviations.length
  return deviations.map((row, block) => row.map((level) => level - trendDb * (block / (n - 1) - 0.5)))
}

/**
 * One level a block that talk, which fills the middle alone, does not move: the median of the levels of three groups of bands, low, middle
 * and high.
 */
function broadLevels(deviations: number[][], windowS: number): number[] {
  return deviations.map((row) => {
    const ends = [63, 250, 4000, 16000]
    const groups = [0, 1, 2].map((group) =>
      meanOf(row, windowS, { from: (ends[group] as number) + (group ? 1 : 0), to: ends[group + 1] as number }),
    )
    const there = groups.filter((group) => group !== undefined)
    return median(there.length === 2 ? there.slice(0, 1) : there)
  })
}

/** Standard deviation of a band's level in one block of steady noise, dB. */
const scatterDb = (band: number, windowS: number): number => {
  const { lowerHz, upperHz } = recordingBands[band] as { lowerHz: number; upperHz: number }
  return dbPerShare / Math.sqrt(((upperHz - lowerHz) * windowS) / hannLines)
}

/** Mean of the levels of a range of bands, each by its certainty, dB; undefined if none of them is held. */
function meanOf(row: readonly number[], windowS: number, range: { from: number; to: number }): number | undefined {
  let sum = 0
  let weights = 0
  for (const [band, level] of row.entries()) {
    const { nominalHz } = recordingBands[band] as { nominalHz: number }
    if (nominalHz < range.from || nominalHz > range.to) continue
    // A wide band is sure, and yet one band: no more weight than at 1 dB of scatter to 0.3 dB.
    const weight = 1 / Math.max(0.3, scatterDb(band, windowS)) ** 2
    sum += weight * level
    weights += weight
  }
  return weights > 0 ? sum / weights : undefined
}

/** What stands out in a block. */
function outlier(row: readonly number[], peakDb: number, windowS: number): Found | undefined {
  const speechDb = meanOf(row, windowS, speechHz) ?? 0
  let risen = 0
  let jumpDb = 0
  for (const [band, level] of row.entries()) {
    const { nominalHz } = recordingBands[band] as { nominalHz: number }
    const scatter = distinct * scatterDb(band, windowS)
    const isSpeech = nominalHz >= speechHz.from && nominalHz <= speechHz.to
    if (isSpeech && level > Math.max(leastBandDb, scatter)) risen += 1
    if (!isSpeech && nominalHz >= lowestJumpHz && level > Math.max(leastJumpDb, scatter))
      jumpDb = Math.max(jumpDb, level)
  }
  if (risen >= fewestSpeechBands || speechDb >= leastMeanDb) return { kind: 'talking', amountDb: speechDb, peakDb }
  if (jumpDb > 0) return { kind: 'bang', amountDb: jumpDb, peakDb }
  if (peakDb >= leastPeakDb) return { kind: 'bang', amountDb: peakDb, peakDb }
  return speechDb <= -leastGapDb ? { kind: 'gap', amountDb: speechDb } : undefined
}

/** Neighbouring blocks with one kind of fault are one. */
function spans(levels: BlockLevels, byBlock: readonly (Found | undefined)[], channel: number): Fault[] {
  const faults: Fault[] = []
  let last: Fault | undefined
  for (const [block, found] of byBlock.entries()) {
    const { fromS, toS } = blockSpanS(levels, block)
    if (found && last && last.kind === found.kind && last.toS > fromS) {
      last.toS = toS
      if (Math.abs(found.amountDb) > Math.abs(last.amountDb)) last.amountDb = found.amountDb
    } else if (found) {
      last = { kind: found.kind, channel, fromS, toS, amountDb: found.amountDb }
      faults.push(last)
    }
    if (!found) last = undefined
  }
  return faults
}

/** Whether two takes that should be alike are not: how much louder the later one is, with the scatter of both. */
export function levelChangeDb(
  earlier: { levels: BlockLevels; channel: number; kept: readonly boolean[] },
  later: { levels: BlockLevels; channel: number; kept: readonly boolean[] },
): { changeDb: number; isDistinct: boolean } | null {
  const series = [earlier, later].map(({ levels, channel, kept }) => {
    const rows = bandRows(levels, channel).filter((_, block) => kept[block])
    return rows.map((row) => Array.from(row, (power) => 10 * Math.log10(Math.max(power, 1e-30))))
  })
  const [first, second] = series
  if (!first || !second || first.length < 3 || second.length < 3) return null
  const medians = (first[0] ?? []).map((_, band) => median(first.map((row) => row[band] as number)))
  const [before, after] = [first, second].map((rows) =>
    broadLevels(
      rows.map((row) => row.slice(0, medians.length).map((level, band) => level - (medians[band] as number))),
      earlier.levels.windowS,
    ),
  )
  if (!before || !after) return null
  const changeDb = median(after) - median(before)
  const errorDb =
    1.2533 *
    Math.hypot(robustScatter(before) / Math.sqrt(before.length), robustScatter(after) / Math.sqrt(after.length))
  return { changeDb, isDistinct: Math.abs(changeDb) >= Math.max(0.6, distinct * errorDb) }
}
