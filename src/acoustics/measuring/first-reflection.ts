import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft, realDft } from '../signals/dft.ts'

/** What arrives first, and what comes after it from elsewhere. Times from the first sample of the response, s. */
export type Arrivals = {
  /** The loudest moment of the direct sound; it may be weaker than what follows it. */
  directS: number
  /** How far the direct sound is below the loudest arrival, dB; 0 if it is the loudest. */
  directBelowLoudestDb: number
  /**
   * A second arrival within boxS of the direct sound: edges of the box, or something close by the microphone. Nothing can be cut between
   * the two: they are told as one.
   */
  merged: { gapS: number; levelDb: number } | null
  /** The first later arrival: when it begins, when it is loudest, and its level re the direct sound, dB; null if there is none. */
  reflection: { fromS: number; loudestS: number; levelDb: number } | null
  /** From the direct sound to where the reflection begins, s; null without one. */
  gapS: number | null
  /** Whether the reflection comes so soon that a cut before it tells next to nothing. */
  tooClose: boolean
}

/** What within this time of the direct sound is still taken for the box itself, s: 0.34 m, the way round a box. */
const boxS = 0.001
/** A gap below this allows nothing under 500 Hz to be told, s. */
const leastGapS = 0.002
/** The start is where the sound first comes within this of its loudest, dB. */
const startDb = 20
/** What stands out of the noise by less is neither a start nor an arrival, dB above its median. */
const aboveNoiseDb = 14
/** A second arrival within boxS is worth a word from this far below the direct sound on, dB, and if there is so much of a dip between both. */
const mergedDb = 12
const mergedDipDb = 2

/**
 * A band in which arrivals are looked for. Moments nearer than smoothS are one; a later arrival counts from faintestDb below the direct sound on, if it
 * rises by risesDb out of what came before it.
 */
type Watch = { fromHz: number; toHz: number; smoothS: number; faintestDb: number; risesDb: number }

/** Short here, and not yet only what a horn beams. */
const sharp: Watch = { fromHz: 1000, toHz: 10000, smoothS: 0.0003, faintestDb: 20, risesDb: 6 }
/** A wall behind the box sends to the front what left the box backward: nothing but low frequencies. */
const dull: Watch = { fromHz: 250, toHz: 1000, smoothS: 0.002, faintestDb: 24, risesDb: 3 }
/** Found in both bands within this time, an arrival is one, and the sharp band knows better when it begins, s. */
const sameS = 0.002

/**
 * Finds the direct sound and the first reflection of an impulse response, by its energy over time from 1 to 10 kHz and from 250 Hz to 1 kHz.
 *
 * @param response      finite samples, 256 … 2²³
 * @param sampleRateHz  8000 … 384 000 Hz
 * @param withinS       how long after the direct sound a reflection is looked for, s; 0.1 unless given
 * @returns  see Arrivals
 * @throws   RangeError for arguments out of range, or a response that is silent in the band
 * Source:   the start 20 dB below the loudest: ISO 3382-1:2009, 5.3 (value from memory). The limits of an arrival: common practice, no source.
 */
export function findArrivals(response: ArrayLike<number>, sampleRateHz: number, withinS = 0.1): Arrivals {
  requireInRange('sampleRateHz', sampleRateHz, { min: 8000, max: 384000, unit: 'Hz' })
  requireInRange('response.length', response.length, { min: 256, max: 2 ** 23, integer: true })
  requireInRange('withinS', withinS, { min: 0.002, max: 1, unit: 's' })
  const levelsDb = bandLevels(response, sampleRateHz, sharp)
  const loudest = loudestIn(levelsDb, 0, levelsDb.length)
  const { direct, noiseDb } = directAt(levelsDb, loudest, sampleRateHz)
  const directDb = levelsDb[direct] as number
  const steps = (timeS: number) => Math.round(timeS * sampleRateHz)
  const to = Math.min(levelsDb.length - 1, direct + steps(withinS))
  const box = peaksAfter(levelsDb, direct, direct + steps(boxS), directDb - mergedDb, mergedDipDb)
  const merged = box.reduce<Peak | null>((best, peak) => (best && best.levelDb >= peak.levelDb ? best : peak), null)
  const sharpNext = peaksAfter(
    levelsDb,
    direct,
    to,
    Math.max(directDb - sharp.faintestDb, noiseDb + aboveNoiseDb),
    sharp.risesDb,
  )
    .map((peak) => ({ ...peak, levelDb: peak.levelDb - directDb }))
    .find(({ at }) => at - direct >= steps(boxS))
  const dullNext = dullReflection(response, sampleRateHz, direct, to)
  const next =
    sharpNext && (!dullNext || sharpNext.at < dullNext.at + steps(sameS)) ? sharpNext : (dullNext ?? sharpNext)
  const gapS = next ? Math.max(1, next.from - direct) / sampleRateHz : null
  return {
    directS: direct / sampleRateHz,
    directBelowLoudestDb: 0 - directDb,
    merged: merged && { gapS: (merged.at - direct) / sampleRateHz, levelDb: merged.levelDb - directDb },
    reflection: next
      ? { fromS: next.from / sampleRateHz, loudestS: next.at / sampleRateHz, levelDb: next.levelDb }
      : null,
    gapS,
    tooClose: gapS !== null && gapS < leastGapS,
  }
}

/**
 * When a band of a response is loudest.
 *
 * @param band.smoothS  moments nearer than this are one, s
 * @returns  from the first sample on, s; null if the band is silent
 */
export function loudestAtS(
  response: ArrayLike<number>,
  sampleRateHz: number,
  band: { fromHz: number; toHz: number; smoothS: number },
): number | null {
  const energies = bandEnergies(response, sampleRateHz, band)
  const at = loudestIn(energies, 0, energies.length)
  return (energies[at] as number) > 0 ? at / sampleRateHz : null
}

/** The first later arrival at low frequencies, its level re the direct sound there. */
function dullReflection(
  response: ArrayLike<number>,
  sampleRateHz: number,
  direct: number,
  to: number,
): Peak | undefined {
  const levelsDb = bandLevels(response, sampleRateHz, dull)
  const reach = Math.round(1.5 * dull.smoothS * sampleRateHz)
  const own = loudestIn(levelsDb, Math.max(0, direct - reach), Math.min(levelsDb.length, direct + reach))
  const directDb = levelsDb[own] as number
  const noiseDb = median(levelsDb.slice(0, Math.max(0, own - 4 * reach)))
  const limitDb = Math.max(directDb - dull.faintestDb, noiseDb + aboveNoiseDb)
  return peaksAfter(levelsDb, own, to, limitDb, dull.risesDb).map((peak) => ({
    ...peak,
    levelDb: peak.levelDb - directDb,
  }))[0]
}

function loudestIn(levelsDb: Float64Array, from: number, to: number): number {
  let best = from
  for (let i = from; i < to; i++) if ((levelsDb[i] as number) > (levelsDb[best] as number)) best = i
  return best
}

/** −Infinity for none. */
function median(levelsDb: Float64Array): number {
  return levelsDb.sort()[Math.floor(levelsDb.length / 2)] ?? Number.NEGATIVE_INFINITY
}

/** Level of the smoothed squared envelope (that of the analytic signal) in a band, dB re its highest. */
function bandLevels(response: ArrayLike<number>, sampleRateHz: number, watch: Watch): Float64Array {
  const energies = bandEnergies(response, sampleRateHz, watch)
  const highest = energies[loudestIn(energies, 0, energies.length)] ?? 0
  requireInRange(`energy of the response from ${watch.fromHz} to ${watch.toHz} Hz`, highest, { above: 0 })
  return energies.map((energy) => 10 * Math.log10(Math.max(energy / highest, 1e-30)))
}

function bandEnergies(
  response: ArrayLike<number>,
  sampleRateHz: number,
  watch: Pick<Watch, 'fromHz' | 'toHz' | 'smoothS'>,
): Float64Array {
  const length = 2 ** Math.ceil(Math.log2(1.25 * response.length))
  const padded = new Float64Array(length)
  for (let n = 0; n < response.length; n++) padded[n] = requireInRange(`response[${n}]`, response[n] as number)
  const { re, im } = realDft(padded)
  const toHz = Math.min(watch.toHz, 0.4 * sampleRateHz)
  for (let k = 0; k < re.length; k++) {
    const frequencyHz = (k * sampleRateHz) / length
    const gain =
      1 / Math.sqrt((1 + eighthPower(watch.fromHz / Math.max(frequencyHz, 1))) * (1 + eighthPower(frequencyHz / toHz)))
    re[k] = (re[k] as number) * gain
    im[k] = (im[k] as number) * gain
  }
  const own = inverseRealDft({ re, im }, length)
  const turned = inverseRealDft({ re: im, im: re.map((value) => -value) }, length)
  const half = Math.max(1, Math.round((watch.smoothS * sampleRateHz) / 2))
  const weights = Array.from({ length: 2 * half + 1 }, (_, i) => 1 + Math.cos((Math.PI * (i - half)) / (half + 1)))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const squares = own.map((value, i) => value * value + (turned[i] as number) ** 2)
  return Float64Array.from({ length: response.length }, (_, i) => {
    let sum = 0
    for (let j = -half; j <= half; j++) sum += (weights[j + half] as number) * (squares[i + j] ?? 0)
    return sum / total
  })
}

/** The top of the first rise that comes near the loudest and out of the noise, and the median level before it. */
function directAt(levelsDb: Float64Array, loudest: number, sampleRateHz: number): { direct: number; noiseDb: number } {
  const noiseDb = median(levelsDb.slice(0, Math.max(0, loudest - Math.round(0.03 * sampleRateHz))))
  const limitDb = Math.min(-1, Math.max(-startDb, noiseDb + aboveNoiseDb))
  let direct = levelsDb.findIndex((level) => level >= limitDb)
  while (direct < loudest && (levelsDb[direct + 1] as number) >= (levelsDb[direct] as number)) direct += 1
  return { direct, noiseDb }
}

type Peak = { at: number; from: number; levelDb: number }

/** Later tops above a limit that rise by so much out of what came before them, in order of time. */
function peaksAfter(levelsDb: Float64Array, direct: number, to: number, limitDb: number, risesDb: number): Peak[] {
  const peaks: Peak[] = []
  let lowest = direct
  for (let i = direct + 1; i < Math.min(to, levelsDb.length - 1); i++) {
    const level = levelsDb[i] as number
    if (level < (levelsDb[lowest] as number)) lowest = i
    const isTop = level >= (levelsDb[i - 1] as number) && level > (levelsDb[i + 1] as number)
    if (!isTop || level < limitDb || level - (levelsDb[lowest] as number) < risesDb) continue
    peaks.push({ at: i, from: risesAt(levelsDb, lowest, i), levelDb: level })
    lowest = i
  }
  return peaks
}

/** Where a later arrival begins: it has come out of the dip before it, to 20 dB under its own top at the latest. */
function risesAt(levelsDb: Float64Array, lowest: number, top: number): number {
  for (let i = top; i > lowest; i--) if ((levelsDb[i] as number) < (levelsDb[top] as number) - startDb) return i
  return lowest
}

/** By squaring, several times as fast as a power. */
function eighthPower(x: number): number {
  const square = x * x
  return square * square * (square * square)
}
