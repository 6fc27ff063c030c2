import { requireInRange } from '../numeric-range.ts'

/** An exponential sweep as it is played. */
export type SweepSpec = {
  /** First and last frequency, Hz: 5 Hz … below half the sample rate, at least one octave apart. */
  fromHz: number
  toHz: number
  /** 0.5 … 60 s, fades included. */
  durationS: number
  /** Raised-cosine fades at both ends, s; together no longer than half the sweep. */
  fadeInS: number
  fadeOutS: number
}

/** Silence, a sweep, silence, the same sweep …: what is played. Two sweeps tell clocks and passing noise from the room. */
export type SweepSignalSpec = SweepSpec & {
  /** Silence before the first sweep, and after each one, s: 0 … 30. The latter is to be longer than the room rings. */
  beforeS: number
  afterS: number
  /** How often the sweep is played: 1 … 4. */
  times: number
}

/** What the site plays: ten octaves in 8 s, twice, about 23 s in all. */
export const usualSweep: SweepSignalSpec = {
  fromHz: 20,
  toHz: 20000,
  durationS: 8,
  fadeInS: 0.1,
  fadeOutS: 0.01,
  beforeS: 0.5,
  afterS: 3,
  times: 2,
}

/**
 * As much of the sweep as a device that records with few samples hears of it: it ends where it reaches 0.45 of the sample rate, as fast as it was played, and
 * the silence behind it begins then.
 */
export function sweepFor(spec: SweepSignalSpec, sampleRateHz: number): SweepSignalSpec {
  const toHz = Math.min(spec.toHz, 0.45 * sampleRateHz)
  if (toHz === spec.toHz) return spec
  const durationS = spec.durationS * (Math.log(toHz / spec.fromHz) / Math.log(spec.toHz / spec.fromHz))
  return { ...spec, toHz, durationS, afterS: spec.afterS + spec.durationS - durationS }
}

/**
 * Time in which the frequency of the sweep rises by a factor of e:  L = T / ln(f₂/f₁)
 *
 * @returns  s
 * @throws   RangeError for a sweep out of range
 * Source:   Farina 2000.
 */
export function sweepRateS(spec: SweepSpec): number {
  requireSweep(spec)
  return spec.durationS / Math.log(spec.toHz / spec.fromHz)
}

/**
 * Frequency that the sweep passes at a time:  f(t) = f₁ e^{t/L}
 *
 * @param timeS  from the start of the sweep, 0 … its duration
 * @returns  Hz
 * @throws   RangeError for a sweep or a time out of range
 * Source:   Farina 2000.
 */
export function sweepFrequencyHz(spec: SweepSpec, timeS: number): number {
  requireInRange('timeS', timeS, { min: 0, max: spec.durationS, unit: 's' })
  return spec.fromHz * Math.exp(timeS / sweepRateS(spec))
}

/**
 * How long before the linear response the response of a harmonic lands:  Δt = L ln n
 *
 * @param order  n, 1 (the linear part: 0 s) and above
 * @returns  s
 * @throws   RangeError for a sweep or an order out of range
 * Source:   Farina 2000.
 */
export function harmonicLeadS(spec: SweepSpec, order: number): number {
  requireInRange('order', order, { min: 1, max: 1000 })
  return sweepRateS(spec) * Math.log(order)
}

/**
 * One exponential sweep:  x(t) = sin( 2π f₁ L (e^{t/L} − 1) ),  faded at both ends
 *
 * It is sampled from its formula, so a recorder whose clock runs otherwise than the player's gets its own sweep without anything having to be
 * interpolated: with a clock ratio 1 + δ sample n is that of the time n / (sampleRate · (1 + δ)).
 *
 * @param spec          see SweepSpec
 * @param sampleRateHz  8000 … 384 000 Hz
 * @param clockRatio    samples that the recorder takes for each that it should, 0.99 … 1.01; 1 unless given
 * @returns  ⌈duration · sampleRate · ratio⌉ samples, full scale 1
 * @throws   RangeError for arguments out of range, or a sweep that reaches half the sample rate
 * Source:   Farina, Simultaneous measurement of impulse response and distortion with a swept-sine technique, AES 108th
 *           Convention (2000), preprint 5093; ISO 18233:2006, Annex B.
 */
export function exponentialSweep(spec: SweepSpec, sampleRateHz: number, clockRatio = 1): Float64Array {
  requireSweep(spec)
  requireRates(spec, sampleRateHz, clockRatio)
  const ownRateHz = sampleRateHz * clockRatio
  const at = sweepAt(spec)
  return Float64Array.from({ length: Math.ceil(spec.durationS * ownRateHz) }, (_, n) => at(n / ownRateHz))
}

/** The sweep as a function of time, s; 0 outside it. */
function sweepAt(spec: SweepSpec): (timeS: number) => number {
  const rateS = sweepRateS(spec)
  return (timeS) => {
    if (timeS < 0 || timeS >= spec.durationS) return 0
    const turns = spec.fromHz * rateS * Math.expm1(timeS / rateS)
    const open = fade(timeS, spec.fadeInS) * fade(spec.durationS - timeS, spec.fadeOutS)
    return open * Math.sin(2 * Math.PI * (turns % 1))
  }
}

/** Raised cosine from 0 to 1. */
const fade = (passedS: number, lengthS: number): number =>
  passedS >= lengthS ? 1 : (1 - Math.cos((Math.PI * Math.max(0, passedS)) / lengthS)) / 2

/** From the start of one sweep to the start of the next, s. */
export const sweepSpacingS = ({ durationS, afterS }: SweepSignalSpec): number => durationS + afterS

/** How long all that is played takes, s. */
export const sweepSignalS = (spec: SweepSignalSpec): number => spec.beforeS + spec.times * sweepSpacingS(spec)

/**
 * All that is played: silence and sweeps.
 *
 * @param spec          see SweepSignalSpec
 * @param sampleRateHz  8000 … 384 000 Hz
 * @param peak          highest sample, above 0 to 1; 0.5 (−6 dB re full scale) unless given
 * @param clockRatio    as exponentialSweep
 * @returns  samples, full scale 1
 * @throws   RangeError for arguments out of range
 */
export function sweepSignal(spec: SweepSignalSpec, sampleRateHz: number, peak = 0.5, clockRatio = 1): Float32Array {
  requireInRange('peak', peak, { above: 0, max: 1 })
  requireSweepSignal(spec)
  requireRates(spec, sampleRateHz, clockRatio)
  const ownRateHz = sampleRateHz * clockRatio
  const at = sweepAt(spec)
  const spacingS = sweepSpacingS(spec)
  // A sweep begins between two samples if it must: its spacing is exact on the player's clock.
  return Float32Array.from({ length: Math.ceil(sweepSignalS(spec) * ownRateHz) }, (_, n) => {
    const playedS = n / ownRateHz - spec.beforeS
    return playedS < 0 ? 0 : peak * at(playedS % spacingS)
  })
}

function requireRates(spec: SweepSpec, sampleRateHz: number, clockRatio: number): void {
  requireInRange('sampleRateHz', sampleRateHz, { min: 8000, max: 384000, unit: 'Hz' })
  requireInRange('clockRatio', clockRatio, { min: 0.99, max: 1.01 })
  requireInRange('toHz', spec.toHz, { below: sampleRateHz / 2, unit: 'Hz' })
}

function requireSweep({ fromHz, toHz, durationS, fadeInS, fadeOutS }: SweepSpec): void {
  requireInRange('fromHz', fromHz, { min: 5, max: 1e5, unit: 'Hz' })
  requireInRange('toHz', toHz, { min: 2 * fromHz, max: 2e5, unit: 'Hz' })
  requireInRange('durationS', durationS, { min: 0.5, max: 60, unit: 's' })
  requireInRange('fadeInS', fadeInS, { min: 0, max: durationS / 2, unit: 's' })
  requireInRange('fadeOutS', fadeOutS, { min: 0, max: durationS / 2 - fadeInS, unit: 's' })
}

/** @throws RangeError for what is played out of range */
export function requireSweepSignal(spec: SweepSignalSpec): void {
  requireSweep(spec)
  requireInRange('beforeS', spec.beforeS, { min: 0, max: 30, unit: 's' })
  requireInRange('afterS', spec.afterS, { min: 0, max: 30, unit: 's' })
  requireInRange('times', spec.times, { min: 1, max: 4, integer: true })
}
