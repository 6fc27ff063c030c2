import { type Band, octaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { inverseRealDft, realDft } from '../signals/dft.ts'
import { thirdOctaveAttenuationDb } from '../signals/third-octave-levels.ts'
import { type DecayEnd, decayEnd } from './impulse-noise.ts'

/** The decay of one octave of a response. What cannot be told is null. */
export type OctaveDecay = {
  band: Band
  /** Decay time from −5 to −25 dB and from −5 to −35 dB, extended to 60 dB, s. */
  t20S: number | null
  t30S: number | null
  /** How far the decay falls before the noise takes over, dB; 0 if no fall can be seen. */
  rangeDb: number
  /** How far the decay is from a straight line over what is told, per mille (1 − r²), and how far T30 is above T20, per cent. */
  nonLinearityPerMille: number | null
  curvaturePercent: number | null
  /** Why T20 is not told: noise too near, or a decay so short that the filter's own is measured. */
  missing: 'range' | 'filter' | null
}

/** Levels between which a decay is told, and how far below the lower one the noise has to lie, dB. */
const t20Db = { fromDb: -5, toDb: -25 } as const
const t30Db = { fromDb: -5, toDb: -35 } as const
const noiseMarginDb = 10

/** Least bandwidth times decay time: below it the filter rings as long as the room. */
const leastBandwidthTime = 16

/**
 * Decay times by octave of a measured impulse response.
 *
 * Each octave is filtered without phase, cut where the decay meets the noise (decayEnd), the noise's mean square is taken off, and the squares
 * are summed backward from there with what an even decay would still hold beyond it:
 *
 *   E(t) = ∫_t^{t₁} (h² − N) dt + N T/(6 ln 10)
 *
 * @param response      finite samples, 1024 … 2²³
 * @param sampleRateHz  8000 … 384 000 Hz
 * @param bands         octaves up to half the sample rate; 63 Hz … 8 kHz, as far as the rate holds them, unless given
 * @returns  an entry a band
 * @throws   RangeError for arguments out of range, or a silent response
 * Source:   ISO 3382-1:2009 (range of T20 and T30, noise 10 dB lower, correction for truncation) and ISO 3382-2:2008 (bandwidth times decay
 *           time above 16; non-linearity and curvature, Annex B): the clauses are values from memory. Backward integration: Schroeder 1965; noise taken off: Chu 1978.
 */
export function octaveDecays(
  response: ArrayLike<number>,
  sampleRateHz: number,
  bands: readonly Band[] = octaveBands(63, 8000).filter(({ upperHz }) => upperHz <= sampleRateHz / 2),
): OctaveDecay[] {
  requireInRange('sampleRateHz', sampleRateHz, { min: 8000, max: 384000, unit: 'Hz' })
  requireInRange('response.length', response.length, { min: 1024, max: 2 ** 23, integer: true })
  for (const [i, { upperHz }] of bands.entries()) {
    requireInRange(`bands[${i}].upperHz`, upperHz, { max: sampleRateHz / 2, unit: 'Hz (half the sample rate)' })
  }
  return bandsOf(response, sampleRateHz, bands).map((octave, i) => decayOf(bands[i] as Band, octave, sampleRateHz))
}

function decayOf(band: Band, octave: Float64Array, sampleRateHz: number): OctaveDecay {
  const squares = octave.map((value) => value * value)
  const end = decayEnd(squares, sampleRateHz)
  const rest = energyToCome(squares, end, sampleRateHz)
  const start = loudestAt(squares)
  const whole = rest[start] as number
  const curveDb = rest.subarray(start).map((left) => 10 * Math.log10(Math.max(left / whole, 1e-30)))
  // Where no fall can be seen at all, the sum of what the noise leaves is no decay either.
  const falls = end.lateDecayS > 0
  const rangeDb = falls ? -(curveDb[Math.max(0, Math.min(end.at - start, curveDb.length - 1))] as number) : 0
  const lineTo = (between: { fromDb: number; toDb: number }) =>
    rangeDb >= noiseMarginDb - between.toDb ? fallThrough(curveDb, sampleRateHz, between) : null
  const t20 = lineTo(t20Db)
  const t30 = lineTo(t30Db)
  const tooShort = t20 !== null && t20.decayS * (band.upperHz - band.lowerHz) < leastBandwidthTime
  const told = t20 && !tooShort ? t20 : null
  const toldLong = told ? t30 : null
  return {
    band,
    t20S: told?.decayS ?? null,
    t30S: toldLong?.decayS ?? null,
    rangeDb,
    nonLinearityPerMille: (toldLong ?? told)?.nonLinearityPerMille ?? null,
    curvaturePercent: told && toldLong ? 100 * (toldLong.decayS / told.decayS - 1) : null,
    missing: told ? null : tooShort ? 'filter' : 'range',
  }
}

/** Octaves of a response, filtered without phase; silence round it keeps what the filter spreads from coming round. */
function bandsOf(response: ArrayLike<number>, sampleRateHz: number, bands: readonly Band[]): Float64Array[] {
  const before = Math.ceil(0.25 * sampleRateHz)
  const length = 2 ** Math.ceil(Math.log2(response.length + 2 * before))
  const padded = new Float64Array(length)
  for (let n = 0; n < response.length; n++) padded[before + n] = requireInRange(`response[${n}]`, response[n] as number)
  const { re, im } = realDft(padded)
  return bands.map((band) => {
    const gains = re.map((_, k) =>
      k === 0 ? 0 : 10 ** (-thirdOctaveAttenuationDb((k * sampleRateHz) / length, band) / 20),
    )
    const octave = inverseRealDft(
      {
        re: re.map((value, k) => value * (gains[k] as number)),
        im: im.map((value, k) => value * (gains[k] as number)),
      },
      length,
    )
    return octave.slice(before, before + response.length)
  })
}

const loudestAt = (squares: Float64Array): number =>
  squares.reduce((best, square, i) => (square > (squares[best] as number) ? i : best), 0)

/** What is left of the energy at every sample, noise taken off, with what comes beyond the end. */
function energyToCome(squares: Float64Array, end: DecayEnd, sampleRateHz: number): Float64Array {
  const rest = new Float64Array(squares.length)
  // An even decay that is as strong as the noise at the end still holds N · T/(6 ln 10).
  let left = (end.noiseSquare * end.lateDecayS * sampleRateHz) / (6 * Math.LN10)
  for (let i = squares.length - 1; i >= 0; i--) {
    if (i < end.at) left += (squares[i] as number) - end.noiseSquare
    rest[i] = Math.max(left, 0)
  }
  return rest
}

type Line = { decayS: number; nonLinearityPerMille: number }

/** The straight line through a curve between two levels; null if it does not get so low or is no fall. */
function fallThrough(
  curveDb: Float64Array,
  sampleRateHz: number,
  { fromDb, toDb }: { fromDb: number; toDb: number },
): Line | null {
  let [count, sumT, sumL, sumTT, sumTL, sumLL] = [0, 0, 0, 0, 0, 0]
  for (let i = 0; i < curveDb.length; i++) {
    const levelDb = curveDb[i] as number
    if (levelDb > fromDb) continue
    if (levelDb < toDb) {
      const [tt, tl, ll] = [count * sumTT - sumT ** 2, count * sumTL - sumT * sumL, count * sumLL - sumL ** 2]
      if (count < 3 || tl >= 0) return null
      return { decayS: (-60 * tt) / tl, nonLinearityPerMille: 1000 * Math.max(0, 1 - tl ** 2 / (tt * ll)) }
    }
    const t = i / sampleRateHz
    count += 1
    sumT += t
    sumL += levelDb
    sumTT += t * t
    sumTL += t * levelDb
    sumLL += levelDb * levelDb
  }
  return null
}

/**
 * Decay time of an impulse response without noise by backward integration:  E(t) = ∫_t^∞ h² dt,  a straight line through 10 lg E(t)
 * between two levels below its start, extended to 60 dB.
 *
 * @param samples       the response, already filtered if one band is wanted
 * @param sampleRateHz  above 0
 * @param spec          fromDb and toDb below the start, default −5 and −35
 * @returns  s
 * @throws RangeError for a silent response, one that does not fall as far as toDb, or arguments out of range
 * Source: Schroeder 1965; the levels of ISO 3382-1 (T30).
 */
export function decayFromResponseS(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  spec: { fromDb: number; toDb: number } = t30Db,
): number {
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, unit: 'Hz' })
  requireInRange('fromDb', spec.fromDb, { max: 0, unit: 'dB' })
  requireInRange('toDb', spec.toDb, { below: spec.fromDb, unit: 'dB' })
  const squares = Float64Array.from(samples, (sample) => sample * sample)
  const rest = energyToCome(squares, { at: squares.length, noiseSquare: 0, lateDecayS: 0 }, sampleRateHz)
  const whole = requireInRange('energy of samples', rest[0] ?? 0, { above: 0 })
  const curveDb = rest.map((left) => 10 * Math.log10(Math.max(left / whole, 1e-300)))
  const line = fallThrough(curveDb, sampleRateHz, spec)
  if (!line) {
    throw new RangeError(
      `the response does not fall from ${spec.fromDb} to ${spec.toDb} dB within its ${samples.length} samples; allowed is a longer or a cleaner one`,
    )
  }
  return line.decayS
}
