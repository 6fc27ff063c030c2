import { requireInRange } from '../numeric-range.ts'
import { type HalfSpectrum, inverseRealDft, realDft } from '../signals/dft.ts'
import { exponentialSweep, requireSweepSignal, type SweepSignalSpec, sweepSpacingS } from './sweep.ts'

/** One channel of a recording. */
export type SweepRecording = { samples: ArrayLike<number>; sampleRateHz: number }

/** Where the sweeps of a recording lie, on the recorder's own clock. */
export type SweepPlaces = {
  /** Sample of the recording at which a sweep that took no time to arrive would have begun: that of the loudest arrival. */
  firstAt: number
  /** Samples from one sweep to the next, a fraction included; null if only one is there. */
  spacing: number | null
  /** Samples that the recorder took for each that it should have taken by the player's clock. */
  clockRatio: number
}

/** The spectrum of a recording divided by that of one sweep: all of its responses in a row. */
export type Deconvolved = {
  recording: HalfSpectrum
  sweep: HalfSpectrum
  quotient: HalfSpectrum
  /** Samples of the transforms; times before 0 are at its end. */
  length: number
  sampleRateHz: number
}

/** Widths of the edges of the band, re its end: what is outside the sweep is not told. */
const lowEdge = 1.12
const highEdge = 1.06

/** Share of the sweep's strongest line below which a line is held down instead of raised. */
const faintest = 1e-7

/** Stretches in which responses are looked for, s. */
const searchS = 0.002

/** Clocks that are farther apart are not looked for, ppm. */
export const widestDriftPpm = 400

/**
 * A sweep is there if its arrival stands out by so much of the tenth of all moments that are loudest, dB: noise and hum are spread over all of them. A
 * second one is there if it is no weaker than the first by so much, dB.
 */
const standsOutDb = 15
const usualShare = 0.9
const secondWithinDb = 20

/**
 * Divides a recording by a sweep:  H = Y X* / (|X|² + ε),  within the band of the sweep
 *
 * The transforms are longer than both together, so that nothing comes round: what the loudspeaker adds in harmonics lands ahead of its response
 * by L ln n (harmonicLeadS), and is cut off with all that is before it.
 *
 * @param clockRatio  of the recorder's clock, see exponentialSweep
 * @throws RangeError for a recording shorter than one sweep or over 2²⁴ samples, or a sample that is not finite
 * Source: Farina 2000; ISO 18233:2006, Annex B.
 */
export function deconvolved(recording: SweepRecording, spec: SweepSignalSpec, clockRatio = 1): Deconvolved {
  requireSweepSignal(spec)
  const { samples, sampleRateHz } = recording
  const sweep = exponentialSweep(spec, sampleRateHz, clockRatio)
  requireInRange('samples.length', samples.length, { min: sweep.length, max: 2 ** 24, integer: true })
  for (let n = 0; n < samples.length; n++) {
    if (!Number.isFinite(samples[n])) requireInRange(`samples[${n}]`, samples[n] as number)
  }
  const length = easyLength(samples.length + sweep.length)
  const y = transformed(samples, length)
  const x = transformed(sweep, length)
  return { recording: y, sweep: x, quotient: divided(y, x, spec, sampleRateHz / length), length, sampleRateHz }
}

/** The smallest power of two, or three times one, that is not below a length. */
function easyLength(least: number): number {
  const power = 2 ** Math.ceil(Math.log2(least))
  return 0.75 * power >= least ? 0.75 * power : power
}

/** Half spectrum of samples with silence behind them up to `length`, which is not below theirs. Same units as the samples. */
export function transformed(samples: ArrayLike<number>, length: number): HalfSpectrum {
  const padded = new Float64Array(length)
  padded.set(samples)
  return realDft(padded)
}

function divided(y: HalfSpectrum, x: HalfSpectrum, { fromHz, toHz }: SweepSignalSpec, stepHz: number): HalfSpectrum {
  const re = new Float64Array(y.re.length)
  const im = new Float64Array(y.re.length)
  const power = (k: number) => (x.re[k] as number) ** 2 + (x.im[k] as number) ** 2
  const first = Math.ceil(fromHz / stepHz)
  const last = Math.min(re.length - 1, Math.floor(toHz / stepHz))
  let strongest = 0
  for (let k = first; k <= last; k++) strongest = Math.max(strongest, power(k))
  const edge = (ratio: number, width: number) =>
    ratio >= width ? 1 : Math.sin(((Math.PI / 2) * Math.log(ratio)) / Math.log(width)) ** 2
  for (let k = first; k <= last; k++) {
    const [a, b] = [x.re[k] as number, x.im[k] as number]
    const [c, d] = [y.re[k] as number, y.im[k] as number]
    const within = edge((k * stepHz) / fromHz, lowEdge) * edge(toHz / (k * stepHz), highEdge)
    const gain = within / (power(k) + faintest * strongest)
    re[k] = (c * a + d * b) * gain
    im[k] = (d * a - c * b) * gain
  }
  return { re, im }
}

/** All responses in a row, as they follow each other in the recording. */
export const responsesInARow = ({ quotient, length }: Deconvolved): Float64Array => inverseRealDft(quotient, length)

/**
 * Finds the sweeps of a recording: the loudest arrival that has an equal one where the next sweep's must be, or without such a one the
 * loudest of all.
 *
 * @returns  null if there is no sweep in it
 */
export function sweepPlaces(row: Float64Array, sampleRateHz: number, spec: SweepSignalSpec): SweepPlaces | null {
  const step = Math.max(1, Math.round(searchS * sampleRateHz))
  // Each of two steps, half over the next: an arrival that falls between two is no weaker for it.
  const energies = new Float64Array(Math.floor(row.length / step) - 1)
  for (let i = 0; i < energies.length; i++) {
    for (let n = i * step; n < (i + 2) * step; n++) energies[i] = (energies[i] as number) + (row[n] as number) ** 2
  }
  const spacing = sweepSpacingS(spec) * sampleRateHz
  const slack = Math.ceil((spacing * widestDriftPpm * 1e-6) / step) + 1
  const partner = (i: number): number => {
    const at = i + Math.round(spacing / step)
    let best = 0
    for (let j = at - slack; j <= at + slack; j++) best = Math.max(best, energies[j] ?? 0)
    return best
  }
  let [alone, paired, pairedScore] = [0, 0, 0]
  for (let i = 0; i < energies.length; i++) {
    const energy = energies[i] as number
    if (energy > (energies[alone] as number)) alone = i
    const score = spec.times > 1 ? Math.sqrt(energy * partner(i)) : 0
    if (score > pairedScore) [paired, pairedScore] = [i, score]
  }
  const sorted = energies.slice().sort()
  const usual = sorted[Math.floor(usualShare * sorted.length)] as number
  const loudest = energies[alone] as number
  if (!(loudest > usual * 10 ** (standsOutDb / 10))) return null
  const isPair = pairedScore > loudest * 10 ** (-secondWithinDb / 10)
  const onlyOne = () => ({ firstAt: loudestNear(row, alone * step, 2 * step), spacing: null, clockRatio: 1 })
  if (!isPair) return onlyOne()
  const firstAt = loudestNear(row, paired * step, 2 * step)
  const found = spacingOf(row, firstAt, Math.round(spacing), (slack + 1) * step, sampleRateHz)
  // No two clocks are so far apart: what was laid over each other is not one sweep twice.
  if (Math.abs(found / spacing - 1) > widestDriftPpm * 1e-6) return onlyOne()
  return { firstAt, spacing: found, clockRatio: found / spacing }
}

/** Sample of the highest magnitude from `width` before a sample to twice as far behind it. */
export function loudestNear(row: Float64Array, from: number, width: number): number {
  let best = Math.max(0, from - width)
  for (let n = best; n < Math.min(row.length, from + 2 * width); n++) {
    if (Math.abs(row[n] as number) > Math.abs(row[best] as number)) best = n
  }
  return best
}

/** Stretch of the responses by which they are laid over each other, s before and after the arrival. */
const matchedS = { before: 0.01, after: 0.08 } as const
/** Times that the correlation is sampled more densely than the recording. */
const denser = 16

/** Samples between two equal responses: where their correlation is highest, between samples by the parabola through its top. */
function spacingOf(row: Float64Array, firstAt: number, about: number, slack: number, sampleRateHz: number): number {
  const before = Math.round(matchedS.before * sampleRateHz)
  const taken = before + Math.round(matchedS.after * sampleRateHz)
  const length = 2 ** Math.ceil(Math.log2(2 * (taken + 2 * slack)))
  const cut = (from: number, count: number) =>
    Float64Array.from({ length: count }, (_, i) => row[(from + i + row.length) % row.length] as number)
  const a = transformed(cut(firstAt - before, taken), length)
  const b = transformed(cut(firstAt + about - before - slack, taken + 2 * slack), length)
  // b against a, with silence above half the sample rate: the correlation between the samples.
  const dense = { re: new Float64Array((denser * length) / 2 + 1), im: new Float64Array((denser * length) / 2 + 1) }
  for (let k = 0; k < length / 2; k++) {
    const [ar, ai, br, bi] = [a.re[k], a.im[k], b.re[k], b.im[k]] as [number, number, number, number]
    dense.re[k] = br * ar + bi * ai
    dense.im[k] = bi * ar - br * ai
  }
  const correlation = inverseRealDft(dense, denser * length)
  let best = 0
  for (let i = 0; i <= 2 * slack * denser; i++) {
    if ((correlation[i] as number) > (correlation[best] as number)) best = i
  }
  const [l, m, r] = [best - 1, best, best + 1].map(
    (i) => correlation[(i + correlation.length) % correlation.length] as number,
  ) as [number, number, number]
  const bend = l - 2 * m + r
  const top = best + (bend < 0 ? (l - r) / (2 * bend) : 0)
  return about - slack + top / denser
}

/** The responses in a row, moved earlier by some samples, a fraction included. */
export function movedEarlier({ quotient, length }: Deconvolved, samples: number): Float64Array {
  const re = new Float64Array(quotient.re.length)
  const im = new Float64Array(quotient.re.length)
  for (let k = 0; k < re.length; k++) {
    const angleRad = 2 * Math.PI * ((k * samples) / length - Math.floor((k * samples) / length))
    const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)]
    re[k] = (quotient.re[k] as number) * c - (quotient.im[k] as number) * s
    im[k] = (quotient.re[k] as number) * s + (quotient.im[k] as number) * c
  }
  return inverseRealDft({ re, im }, length)
}
