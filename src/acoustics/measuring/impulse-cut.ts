import { type Band, thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { type Arrivals, findArrivals } from './first-reflection.ts'
import { impulseLevelsDb } from './impulse-levels.ts'
import { detailBands } from './recording-bands.ts'

/** What the box sends by itself: the response up to its first reflection, and from where on it holds. */
export type CutResponse = {
  arrivals: Arrivals
  /** The response with all from the first reflection on taken away; as long as the whole. */
  samples: Float64Array
  /** From the direct sound to the end of the cut, s; null if nothing had to be cut. */
  windowS: number | null
  /** The rule of thumb 1/T for the window, Hz; null if nothing was cut. */
  ruleHz: number | null
  /** Lower edge of the lowest third octave from which on all hold: above 1/T, and no longer moved by a shorter cut. 0 if nothing was cut. */
  validFromHz: number
}

/** Before the direct sound the window is open for this long, and opens within that time, s. */
const openS = 0.004
const opensWithinS = 0.002
/** Share of the window that stays open before the last part closes as half a Hann window; both are shares of it. */
const flatShare = 0.5
/** The cut is tried with a window shorter by this ratio, and a third octave holds if that moves it by no more than this, dB. */
const shorter = 0.75
const movedDb = 0.3

/**
 * Cuts a response off before its first reflection, by half a Hann window that has closed when the reflection begins.
 *
 * A window of length T cannot tell what is slower than 1/T. How far above that the levels hold depends on how long the box itself rings, and that shows
 * in the response: a shorter window changes the bands that are not whole yet. So the limit is the lowest third octave above 1/T
 * from which on a window of ¾ T gives the same within 0.3 dB.
 *
 * @param response      finite samples, 256 … 2²³
 * @param sampleRateHz  8000 … 384 000 Hz
 * @param arrivals      from findArrivals of the same response, which is asked unless given
 * @returns  see CutResponse
 * @throws   RangeError as findArrivals
 * Source:   the window and 1/T: common practice, no source; the test by a shorter window is ours.
 * Accuracy: above the limit within 0.5 dB of the box in free air.
 */
export function cutBeforeReflection(
  response: ArrayLike<number>,
  sampleRateHz: number,
  arrivals: Arrivals = findArrivals(response, sampleRateHz),
): CutResponse {
  const { directS, gapS } = arrivals
  if (gapS === null) {
    return { arrivals, samples: Float64Array.from(response), windowS: null, ruleHz: null, validFromHz: 0 }
  }
  const samples = windowed(response, sampleRateHz, directS, gapS)
  const bands = thirdOctaveBands(25, 16000).filter(({ upperHz }) => upperHz <= sampleRateHz / 2)
  const full = impulseLevelsDb(samples, sampleRateHz, bands)
  const less = impulseLevelsDb(windowed(response, sampleRateHz, directS, shorter * gapS), sampleRateHz, bands)
  const lastMoved = bands.findLastIndex(
    ({ lowerHz }, i) => lowerHz < 1 / gapS || !(Math.abs((full[i] as number) - (less[i] as number)) <= movedDb),
  )
  const validFromHz = bands[lastMoved + 1]?.lowerHz ?? sampleRateHz / 2
  return { arrivals, samples, windowS: gapS, ruleHz: 1 / gapS, validFromHz }
}

function windowed(response: ArrayLike<number>, sampleRateHz: number, directS: number, windowS: number): Float64Array {
  requireInRange('windowS', windowS, { above: 0, unit: 's' })
  return Float64Array.from(response, (sample, i) => {
    const t = i / sampleRateHz - directS
    const opening = Math.min(1, Math.max(0, (t + openS) / opensWithinS))
    const closing = Math.min(1, Math.max(0, (windowS - t) / ((1 - flatShare) * windowS)))
    return sample * Math.sin((Math.PI / 2) * opening) ** 2 * Math.sin((Math.PI / 2) * closing) ** 2
  })
}

/** Levels of one response in one set of bands, dB re the input; null where noise hides them. */
export type MeasuredLevels = (number | null)[]

/** Least margin over the noise with which a level is told, dB. */
const leastMarginDb = 3

/**
 * Levels of a response by band, the noise in it taken off by power.
 *
 * @param noise  as long as the response and with as much noise in it and nothing else; none unless given
 * @returns  null where response and noise together are less than 3 dB above the noise alone
 * @throws   RangeError as impulseLevelsDb
 */
export function measuredLevelsDb(
  response: ArrayLike<number>,
  noise: ArrayLike<number> | null,
  sampleRateHz: number,
  bands: readonly Band[],
): MeasuredLevels {
  const levelsDb = impulseLevelsDb(response, sampleRateHz, bands)
  if (!noise) return [...levelsDb]
  const noiseDb = impulseLevelsDb(noise, sampleRateHz, bands)
  return Array.from(levelsDb, (level, i) => {
    const marginDb = level - (noiseDb[i] as number)
    return marginDb < leastMarginDb ? null : level + 10 * Math.log10(1 - 10 ** (-marginDb / 10))
  })
}

/**
 * By how much chance may move the levels of measuredLevelsDb, one standard deviation:  s = (20/ln 10) · 10^{−m/20} / √(2 B T),  m the margin in dB, B T the number of
 * independent lines: those of a band in the length of the response
 *
 * @returns  dB, a value a band; null where the level is not told
 * @throws   RangeError as impulseLevelsDb
 * Source:   the variance of a sum of |H + N|² over lines whose noise is independent, to the first order in N.
 */
export function noiseScatterDb(
  response: ArrayLike<number>,
  noise: ArrayLike<number>,
  sampleRateHz: number,
  bands: readonly Band[],
): MeasuredLevels {
  const levelsDb = measuredLevelsDb(response, noise, sampleRateHz, bands)
  const noiseDb = impulseLevelsDb(noise, sampleRateHz, bands)
  return bands.map(({ lowerHz, upperHz }, i) => {
    const level = levelsDb[i] ?? null
    const lines = Math.max(1, ((upperHz - lowerHz) * response.length) / sampleRateHz)
    return level === null
      ? null
      : (20 / Math.LN10) * 10 ** (((noiseDb[i] as number) - level) / 20) * Math.sqrt(1 / (2 * lines))
  })
}

/** Behind minus front in one set of bands, dB; null where it cannot be told. */
export type BoxOrHall = {
  bands: Band[]
  /** By how much noise may have moved wholeDb, one standard deviation, dB; null where that is not known. */
  scatterDb: MeasuredLevels
  /** What arrives in all, what the box sends, and what the hall adds to the difference: the first less the second. */
  wholeDb: MeasuredLevels
  boxDb: MeasuredLevels
  hallDb: MeasuredLevels
}

/** One place of the test: its response, and the noise in it if that is known. */
export type PlaceResponse = { response: ArrayLike<number>; noise: ArrayLike<number> | null; sampleRateHz: number }

/**
 * Box or hall: behind minus front as it arrives, and as the box alone sends it, in third octaves and in twenty-fourths of an octave.
 *
 * @returns  both sets, both cuts, and from where on what the box sends is told, Hz: the higher limit of both
 * @throws   RangeError as cutBeforeReflection
 */
export function boxOrHall(
  front: PlaceResponse,
  behind: PlaceResponse,
): { thirdOctaves: BoxOrHall; fine: BoxOrHall; front: CutResponse; behind: CutResponse; validFromHz: number } {
  const inFront = cutBeforeReflection(front.response, front.sampleRateHz)
  const there = cutBeforeReflection(behind.response, behind.sampleRateHz)
  const validFromHz = Math.max(inFront.validFromHz, there.validFromHz)
  const halfRateHz = Math.min(front.sampleRateHz, behind.sampleRateHz) / 2
  const within = (bands: readonly Band[]): BoxOrHall => {
    const held = bands.filter(({ upperHz }) => upperHz <= halfRateHz)
    const wholeDb = less(wholeOf(behind, held), wholeOf(front, held))
    const sent = less(boxOf(there, behind, held), boxOf(inFront, front, held))
    const boxDb = sent.map((level, i) => ((held[i]?.lowerHz ?? 0) >= validFromHz * 0.9999 ? level : null))
    const [f, b] = [scatterOf(front, held), scatterOf(behind, held)]
    const scatterDb = held.map((_, i) => (f?.[i] == null || b?.[i] == null ? null : Math.hypot(f[i], b[i])))
    return { bands: held, scatterDb, wholeDb, boxDb, hallDb: less(wholeDb, boxDb) }
  }
  return {
    thirdOctaves: within(thirdOctaveBands(25, 16000)),
    fine: within(detailBands),
    front: inFront,
    behind: there,
    validFromHz,
  }
}

const wholeOf = ({ response, noise, sampleRateHz }: PlaceResponse, bands: readonly Band[]) =>
  measuredLevelsDb(response, noise, sampleRateHz, bands)

const scatterOf = ({ response, noise, sampleRateHz }: PlaceResponse, bands: readonly Band[]) =>
  noise && noiseScatterDb(response, noise, sampleRateHz, bands)

/** The cut goes over the noise too: it takes most of that away. */
function boxOf(cut: CutResponse, { noise, sampleRateHz }: PlaceResponse, bands: readonly Band[]): MeasuredLevels {
  return measuredLevelsDb(cut.samples, noise && cutNoise(cut, noise, sampleRateHz), sampleRateHz, bands)
}

/** What the cut of a response leaves of the noise in it, as long as the noise. */
export const cutNoise = (
  { arrivals, windowS }: CutResponse,
  noise: ArrayLike<number>,
  sampleRateHz: number,
): Float64Array =>
  windowS === null ? Float64Array.from(noise) : windowed(noise, sampleRateHz, arrivals.directS, windowS)

/** First and last sample (excluded) that a cut leaves open; the whole response where nothing was cut. */
export function openStretch({ arrivals, samples, windowS }: CutResponse, sampleRateHz: number): [number, number] {
  if (windowS === null) return [0, samples.length]
  const from = Math.max(0, Math.floor((arrivals.directS - openS) * sampleRateHz))
  return [from, Math.min(samples.length, Math.ceil((arrivals.directS + windowS) * sampleRateHz))]
}

const less = (a: MeasuredLevels, b: MeasuredLevels): MeasuredLevels =>
  a.map((level, i) => (level === null || b[i] === null || b[i] === undefined ? null : level - b[i]))
