import { fractionalOctaveBands } from '../bands/fractional-octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft } from '../signals/dft.ts'
import { loudestAtS } from './first-reflection.ts'
import { impulseLevelsDb } from './impulse-levels.ts'
import { type SweepSignalSpec, sweepFor, sweepSpacingS } from './sweep.ts'
import { clippedSpans, gapSpans, type SweepFinding, unsteadyFromHz, unsteadySpans } from './sweep-findings.ts'
import {
  type Deconvolved,
  deconvolved,
  loudestNear,
  movedEarlier,
  responsesInARow,
  type SweepPlaces,
  type SweepRecording,
  sweepPlaces,
  transformed,
} from './sweep-response.ts'

/** What one channel of a recording of sweeps says. */
export type SweepTake = {
  /** Impulse response re the sweep as it was played, leadS before its arrival on; null without a sweep. */
  response: Float64Array | null
  /** As long as the response and with as much noise in it, and nothing else: half of what two sweeps differ by; null if they cannot be compared. */
  noise: Float64Array | null
  sampleRateHz: number
  leadS: number
  /** From the beginning of the recording to that of the first sweep as it arrives, s; null without a sweep. */
  startsAtS: number | null
  /** How much faster the recorder's clock runs than the player's, ppm; null if only one sweep is there. */
  driftPpm: number | null
  /** Which sweeps the response is the mean of, counted from 1. */
  sweepsUsed: number[]
  findings: SweepFinding[]
}

/** Where the sweeps lie is known from the other channel of the same recorder. */
export type SweepOptions = {
  /** How much of the response is wanted, s; the silence after a sweep unless given. */
  responseS?: number
  places?: SweepPlaces
}

/** Silence and what the band limit spreads ahead of the arrival, s. */
const leadS = 0.1
/** A drift or a change of level below these is not worth a word, ppm and dB. */
const tellDriftPpm = 5
const tellChangeDb = 0.5
/** Behind a sweep a gap of its response counts as its own for so long, s. */
const ringsS = 0.5
/** An arrival is looked for so near to where it must be, s. */
const nearbyS = 0.005
/** Drift that is corrected by another reference sweep, ppm. */
const correctDriftPpm = 0.2

/**
 * Impulse response from a recording of sweeps: the sweeps are found, the recorder's clock is told from their distance, the recording is divided by
 * a sweep on that clock, and the responses to the sweeps that nothing disturbed are averaged.
 *
 * The clock is told from two equal sweeps and not from the stretch of one: a crossover delays low frequencies against high ones as a wrong clock
 * does. For a wrong clock the sweep is made anew from its formula, which takes the place of resampling the recording.
 *
 * @param recording  full scale ±1; 8000 … 384 000 Hz; up to 2²⁴ samples
 * @param spec       what was played; its upper end is lowered for a recorder that takes few samples
 * @returns  see SweepTake; what is wrong with the recording is among its findings
 * @throws   RangeError for arguments out of range: a recording shorter than one sweep, a sample that is not finite
 * Source:   Farina 2000; ISO 18233:2006, Annex B.
 * Accuracy: drift within 1 ppm at noise 20 dB under the sweep; third octaves within 0.3 dB, decay times within 5 %.
 */
export function sweepTake(recording: SweepRecording, spec: SweepSignalSpec, options: SweepOptions = {}): SweepTake {
  const { samples, sampleRateHz } = recording
  const played = sweepFor(spec, sampleRateHz)
  const responseS = requireInRange('responseS', options.responseS ?? Math.max(0.1, spec.afterS), {
    min: 0.1,
    max: 30,
    unit: 's',
  })
  const findings = clippedSpans(samples, sampleRateHz)
  const first = deconvolved(recording, played, options.places?.clockRatio ?? 1)
  let row = responsesInARow(first)
  const own = sweepPlaces(row, sampleRateHz, played)
  const found = own && besideGaps(options.places ?? own, gapSpans(samples, sampleRateHz), { row, sampleRateHz, played })
  let places = found?.places
  if (
    !found ||
    !places ||
    !isSweep(cutAt(row, places.firstAt, longestSmearS, sampleRateHz), played, places, sampleRateHz)
  ) {
    findings.push({ kind: 'no-sweep' })
    return {
      response: null,
      noise: null,
      sampleRateHz,
      leadS,
      startsAtS: null,
      driftPpm: null,
      sweepsUsed: [],
      findings,
    }
  }
  const driftPpm = places.spacing === null ? null : (places.clockRatio - 1) * 1e6
  let whole = first
  if (!options.places && driftPpm !== null && Math.abs(driftPpm) > correctDriftPpm) {
    whole = deconvolved(recording, played, places.clockRatio)
    row = responsesInARow(whole)
    // On the wrong clock the arrival was smeared, and its top elsewhere.
    const smear = 4 + Math.ceil(Math.abs(driftPpm) * 1e-6 * played.durationS * sampleRateHz)
    places = { ...places, firstAt: loudestNear(row, places.firstAt, smear) }
  }
  if (driftPpm !== null && Math.abs(driftPpm) > tellDriftPpm) findings.push({ kind: 'clock-drift', driftPpm })
  findings.push(...found.gaps)
  if (driftPpm === null && played.times > 1 && found.gaps.every(({ sweep }) => sweep === found.used)) {
    findings.push({ kind: 'one-sweep' })
  }
  const lastAt = places.firstAt + (places.spacing ?? 0)
  const missingS = (lastAt - samples.length) / sampleRateHz + played.durationS + responseS
  if (missingS > 0.01) findings.push({ kind: 'cut-short', missingS })

  const cut = (responses: Float64Array) => cutAt(responses, places.firstAt, responseS, sampleRateHz)
  const one = cut(row)
  const startsAtS = places.firstAt / sampleRateHz
  const base = { sampleRateHz, leadS, startsAtS, driftPpm, findings }
  // A last sweep that is not whole lacks its treble: the two would differ by that, and not by noise.
  if (places.spacing === null || missingS > responseS)
    return { ...base, response: one, noise: null, sweepsUsed: [found.used] }
  const two = cut(movedEarlier(whole, places.spacing))
  const changeDb = 10 * Math.log10(energyOf(two) / energyOf(one))
  if (Math.abs(changeDb) > tellChangeDb) findings.push({ kind: 'level-changed', changeDb })
  const mean = one.map((value, i) => (value + (two[i] as number)) / 2)
  const unsteady = unsteadySpans(remainder(whole, one, two, places), sampleRateHz, {
    firstAt: places.firstAt,
    spacing: places.spacing,
    lengthS: Math.min(played.durationS + responseS, sweepSpacingS(played), (samples.length - lastAt) / sampleRateHz),
    signalSquare: meanSquareOf(samples),
  })
  findings.push(...unsteady)
  const disturbed = new Set(unsteady.map(({ sweep }) => sweep))
  if (disturbed.size === 1) {
    const response = disturbed.has(1) ? two : one
    return { ...base, response, noise: null, sweepsUsed: [disturbed.has(1) ? 2 : 1] }
  }
  const noise = one.map((value, i) => (value - (two[i] as number)) / 2)
  return { ...base, response: mean, noise, sweepsUsed: [1, 2] }
}

/**
 * Where the sweeps lie that count, as gaps in the recording leave them: behind a gap a sweep comes later than its beginning tells, so that one with a gap says
 * nothing of clocks, and is left out where the other has none.
 *
 * @returns  the places, the gaps with their sweeps, counted from 1, and which of the two the first place is
 */
function besideGaps(
  places: SweepPlaces,
  spans: readonly { from: number; to: number }[],
  { row, sampleRateHz, played }: { row: Float64Array; sampleRateHz: number; played: SweepSignalSpec },
): { places: SweepPlaces; gaps: Extract<SweepFinding, { kind: 'gap' }>[]; used: number } {
  const spacing = places.spacing ?? sweepSpacingS(played) * sampleRateHz
  const sweepLength = (played.durationS + ringsS) * sampleRateHz
  // The other of an only one may be the one before, if there was time for it.
  const earliest = places.spacing === null && places.firstAt + sweepLength > spacing ? -1 : 0
  const placed = spans
    .map((span) => {
      const passed = (span.from - places.firstAt) / spacing
      const own = Math.floor(passed)
      // In the pause behind a sweep a gap makes the next one late.
      return { ...span, which: own >= 0 && (passed - own) * spacing > sweepLength ? own + 1 : own }
    })
    .filter(({ which }) => which <= 1 && which >= earliest)
  const before = placed.some(({ which }) => which < 0) ? 1 : 0
  const gaps = placed.map(({ from, to, which }) => ({
    kind: 'gap' as const,
    sweep: which + before + 1,
    fromS: from / sampleRateHz,
    toS: to / sampleRateHz,
  }))
  const alone = (firstAt: number, used: number) => ({ places: { firstAt, spacing: null, clockRatio: 1 }, gaps, used })
  const damaged = new Set(placed.map(({ which }) => which))
  if (places.spacing === null) return alone(places.firstAt, before + 1)
  if (damaged.size !== 1) return { places, gaps, used: 1 }
  if (damaged.has(1)) return alone(places.firstAt, 1)
  return alone(loudestNear(row, Math.round(places.firstAt + spacing), Math.ceil(nearbyS * sampleRateHz)), 2)
}

function cutAt(row: Float64Array, at: number, responseS: number, sampleRateHz: number): Float64Array {
  const from = at - Math.round(leadS * sampleRateHz)
  return Float64Array.from(
    { length: Math.round((leadS + responseS) * sampleRateHz) },
    (_, i) => row[(from + i + row.length) % row.length] as number,
  )
}

/** Share of the third octaves of the sweep that are within so much of the strongest: hum fills a few, a loudspeaker from any side most. */
const broadShare = 2 / 3
const broadDb = 45

/** How much of a response is looked at for its kind, s. */
const longestSmearS = 0.5
/** Octaves of a sweep that was played faster or slower than it should arrive one after the other, beyond what crossovers and reflections make, s. */
const mostApartS = 0.1
const octavesHz = [500, 1000, 2000, 4000]

/** Whether what was found is the sweep: broad, and where nothing else proves its speed, all of it at one time. */
function isSweep(
  response: Float64Array,
  played: SweepSignalSpec,
  { spacing }: SweepPlaces,
  sampleRateHz: number,
): boolean {
  if (!isBroad(response.subarray(0, Math.round((leadS + 0.2) * sampleRateHz)), played, sampleRateHz)) return false
  if (spacing !== null || played.times === 1) return true
  const times = octavesHz
    .filter((frequencyHz) => 1.5 * frequencyHz < played.toHz && frequencyHz > 1.5 * played.fromHz)
    .flatMap(
      (frequencyHz) =>
        loudestAtS(response, sampleRateHz, { fromHz: frequencyHz / 1.4, toHz: frequencyHz * 1.4, smoothS: 0.01 }) ?? [],
    )
  return times.length < 2 || Math.max(...times) - Math.min(...times) < mostApartS
}

/** Whether what was found fills the band of the sweep: a lone hum, let in and out, has arrivals too. */
function isBroad(response: Float64Array, { fromHz, toHz }: SweepSignalSpec, sampleRateHz: number): boolean {
  const bands = fractionalOctaveBands(3, 1.25 * fromHz, 0.8 * toHz)
  const levelsDb = impulseLevelsDb(response, sampleRateHz, bands)
  const lowestDb = Math.max(...levelsDb) - broadDb
  return levelsDb.filter((level) => level > lowestDb).length >= broadShare * bands.length
}

function meanSquareOf(samples: ArrayLike<number>): number {
  let sum = 0
  for (let n = 0; n < samples.length; n++) sum += (samples[n] as number) ** 2
  return sum / samples.length
}

const energyOf = (samples: Float64Array): number => samples.reduce((sum, sample) => sum + sample * sample, 0)

/**
 * The recording without the two sweeps through their own responses, above unsteadyFromHz. It sets in over an octave: behind a sharp edge the sweep that
 * follows would ring seconds ahead of itself.
 */
function remainder(
  { recording, sweep, length, sampleRateHz }: Deconvolved,
  one: Float64Array,
  two: Float64Array,
  { firstAt, spacing }: SweepPlaces,
): Float64Array {
  // One response for both: a disturbance of one sweep must not explain itself away.
  const response = transformed(
    one.map((value, i) => (value + (two[i] as number)) / 2),
    length,
  )
  const startsAt = firstAt - Math.round(leadS * sampleRateHz)
  const re = new Float64Array(response.re.length)
  const im = new Float64Array(response.re.length)
  const first = Math.ceil((unsteadyFromHz * length) / sampleRateHz)
  for (let k = first; k < re.length; k++) {
    const share = k < 2 * first ? Math.sin((Math.PI / 2) * Math.log2(k / first)) ** 2 : 1
    const [hr, hi, xr, xi] = [response.re[k], response.im[k], sweep.re[k], sweep.im[k]] as [
      number,
      number,
      number,
      number,
    ]
    const [pr, pi] = [hr * xr - hi * xi, hr * xi + hi * xr]
    const a = turn((k * startsAt) / length)
    const b = turn((k * (startsAt + (spacing ?? 0))) / length)
    const [c, s] = [a.c + b.c, a.s + b.s]
    re[k] = share * ((recording.re[k] as number) - (pr * c - pi * s))
    im[k] = share * ((recording.im[k] as number) - (pr * s + pi * c))
  }
  return inverseRealDft({ re, im }, length)
}

/** e^{−j2πx}, with whole turns taken off first. */
function turn(x: number): { c: number; s: number } {
  const angleRad = -2 * Math.PI * (x - Math.floor(x))
  return { c: Math.cos(angleRad), s: Math.sin(angleRad) }
}

/**
 * Where the sweeps of the other channel of the same recorder lie, as one channel tells.
 *
 * @returns  undefined if that one has no sweep
 */
export function sharedPlaces(
  { startsAtS, driftPpm, sampleRateHz }: Pick<SweepTake, 'startsAtS' | 'driftPpm' | 'sampleRateHz'>,
  spec: SweepSignalSpec,
): SweepPlaces | undefined {
  if (startsAtS === null) return undefined
  const clockRatio = 1 + (driftPpm ?? 0) * 1e-6
  const spacing = driftPpm === null ? null : sweepSpacingS(spec) * sampleRateHz * clockRatio
  return { firstAt: Math.round(startsAtS * sampleRateHz), spacing, clockRatio }
}

/** Both places of a test: in front of the box and behind it. */
export type SweepPair = {
  front: SweepTake
  behind: SweepTake
  /** How much later the sound comes behind than in front, s; only if both were recorded at once. */
  delayS: number | null
}

/**
 * Both responses of a test, from the two channels of one recorder or from two recordings of their own.
 *
 * @param oneClock  both channels of one recorder, recorded at once: the clock is told from the louder one, and both responses begin at the same
 *                  moment, so that their travel times can be compared
 * @throws RangeError as sweepTake
 */
export function sweepPair(
  { front, behind, oneClock }: { front: SweepRecording; behind: SweepRecording; oneClock: boolean },
  spec: SweepSignalSpec,
  options: Pick<SweepOptions, 'responseS'> = {},
): SweepPair {
  const inFront = sweepTake(front, spec, options)
  if (!oneClock || inFront.startsAtS === null || front.sampleRateHz !== behind.sampleRateHz) {
    return { front: inFront, behind: sweepTake(behind, spec, options), delayS: null }
  }
  const places = sharedPlaces(inFront, spec)
  const there = sweepTake(behind, spec, { ...options, ...(places && { places }) })
  const delayS = there.response && inFront.response ? delayBetween(inFront, there) : null
  return { front: inFront, behind: there, delayS }
}

function delayBetween(a: SweepTake, b: SweepTake): number {
  const loudest = ({ response }: SweepTake) =>
    (response ?? new Float64Array()).reduce(
      (best, value, i, all) => (Math.abs(value) > Math.abs(all[best] as number) ? i : best),
      0,
    )
  return (loudest(b) - loudest(a)) / a.sampleRateHz
}
