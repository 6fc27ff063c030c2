import { requireInRange } from '../numeric-range.ts'

/** Where a decay meets the noise. */
export type DecayEnd = {
  /** Sample at which the decay is as strong as the noise; the length of the response if it never is. */
  at: number
  /** Mean square of the noise. */
  noiseSquare: number
  /** Decay time of the last stretch above the noise, s; 0 if there is none. */
  lateDecayS: number
}

/** First length of the stretches that squares are averaged over, s, and how many of them there are in 10 dB later on. */
const firstStretchS = 0.02
const stretchesPer10Db = 5
/** The noise is told from at least so much of the end, and from this far beyond the meeting on, dB of the decay. */
const leastTail = 0.1
const beyondDb = 8
/** The late slope is told from this far above the noise on, over this much, dB. */
const aboveNoiseDb = 7
const slopeOverDb = 15
const rounds = 12

/**
 * Where the decay of an impulse response meets its noise, by repetition: noise from the end, a line through the decay above it, the place where both
 * meet, noise from beyond that place, a line through the last 15 dB above it, and again.
 *
 * @param squares       squared samples of one band, 0 or more
 * @param sampleRateHz  above 0
 * @returns  see DecayEnd
 * @throws   RangeError for a silent response
 * Source:   Lundeby, Vigran, Bietz & Vorländer 1995.
 */
export function decayEnd(squares: Float64Array, sampleRateHz: number): DecayEnd {
  const { length } = squares
  let loudest = 0
  for (let i = 1; i < length; i++) if ((squares[i] as number) > (squares[loudest] as number)) loudest = i
  requireInRange('loudest square of response', squares[loudest] ?? 0, { above: 0 })
  let noise = meanOf(squares, Math.floor((1 - leastTail) * length), length)
  let stretch = Math.max(1, Math.round(firstStretchS * sampleRateHz))
  let meet = length
  let slope = 0
  for (let round = 0; round < rounds; round++) {
    const levels = stretchLevels(squares, loudest, stretch)
    const noiseDb = 10 * Math.log10(Math.max(noise, 1e-300))
    const line = lineThrough(levels, noiseDb, round === 0)
    if (!line) break
    slope = (line.slopeDb / stretch) * sampleRateHz
    const crossing = loudest + ((noiseDb - line.atStartDb) / line.slopeDb + 0.5) * stretch
    const next = Math.max(loudest + stretch, Math.min(length, Math.round(crossing)))
    const beyond = next + (beyondDb / -slope) * sampleRateHz
    const settled = Math.abs(next - meet) < 0.002 * length && round > 1
    meet = next
    noise = meanOf(squares, Math.floor(Math.min(beyond, (1 - leastTail) * length)), length)
    if (settled) break
    stretch = Math.max(1, Math.round(((10 / -slope) * sampleRateHz) / stretchesPer10Db))
  }
  return { at: meet, noiseSquare: noise, lateDecayS: slope < 0 ? -60 / slope : 0 }
}

function meanOf(squares: Float64Array, from: number, to: number): number {
  let sum = 0
  for (let i = from; i < to; i++) sum += squares[i] as number
  return to > from ? sum / (to - from) : 0
}

/** Mean level of one stretch after another, dB. */
function stretchLevels(squares: Float64Array, from: number, stretch: number): number[] {
  const levels: number[] = []
  for (let at = from; at + stretch <= squares.length; at += stretch) {
    levels.push(10 * Math.log10(Math.max(meanOf(squares, at, at + stretch), 1e-300)))
  }
  return levels
}

/** Line through the stretches above the noise: at first through all, then through the last of them. Null if they do not fall. */
function lineThrough(levels: number[], noiseDb: number, first: boolean): { slopeDb: number; atStartDb: number } | null {
  const lowestDb = noiseDb + aboveNoiseDb
  const firstBelow = levels.findIndex((level) => level < lowestDb)
  const to = firstBelow < 0 ? levels.length : firstBelow
  let from = 0
  if (!first) {
    while (from < to && (levels[from] as number) > lowestDb + slopeOverDb) from += 1
    from = Math.min(from, Math.max(0, to - 3))
  }
  const count = to - from
  if (count < 2) return null
  const middle = from + (count - 1) / 2
  let [mean, xx, xy] = [0, 0, 0]
  for (let i = from; i < to; i++) mean += (levels[i] as number) / count
  for (let i = from; i < to; i++) {
    xx += (i - middle) ** 2
    xy += (i - middle) * ((levels[i] as number) - mean)
  }
  const slopeDb = xy / xx
  return slopeDb < 0 ? { slopeDb, atStartDb: mean - slopeDb * middle } : null
}
