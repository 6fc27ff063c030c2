import type { Band } from '../bands/octave-bands.ts'
import { aWeightingDb } from '../hearing/frequency-weighting.ts'
import { requireInRange } from '../numeric-range.ts'
import { realDft } from './dft.ts'
import { thirdOctaveAttenuationDb } from './third-octave-levels.ts'

/** Bands are weighed up to this ratio above and below their centres; beyond it their filters are more than 110 dB down. */
const reach = 1.9

/**
 * Samples of the DFT by which responses are weighed: four times the longest of them or more, a power of two, so that |H|² is smooth
 * between its lines.
 */
export const gridLengthFor = (...responses: ArrayLike<number>[]): number =>
  2 ** Math.ceil(Math.log2(4 * Math.max(...responses.map(({ length }) => length))))

/** What a loop brings to each band through any response of up to half the grid's length. */
export type LoopWeights = {
  bands: readonly Band[]
  /** Samples of the DFT by which a response is weighed. */
  gridLength: number
  /** A band's share of |H|² at grid line from, from + 1, …; mean square re full scale. */
  rows: { from: number; weights: Float64Array }[]
  /** The same for the A-weighted level, from grid line 0. */
  aWeighted: Float64Array
}

/** Shares of a value between four equidistant points, at t from the second to the third, by the cubic through them (Lagrange). */
const cubicShares = (t: number): number[] => [
  (-t * (t - 1) * (t - 2)) / 6,
  ((t + 1) * (t - 1) * (t - 2)) / 2,
  (-(t + 1) * t * (t - 2)) / 2,
  ((t + 1) * t * (t - 1)) / 6,
]

/**
 * Bins the line spectrum of a loop for `levelsThroughResponse`:  w_bj = Σ_k P_k B_b(f_k) s_kj
 *
 * P_k is the mean square of line k, B_b the power transmission of the class 1 filter of band b, and s_kj the share of the
 * line that goes to grid line j: a cubic interpolation of |H|² between grid lines.
 *
 * @param samples       one period of the loop, at least 2 samples, finite
 * @param sampleRateHz  above 0 to 1 000 000 Hz
 * @param bands         third octaves or octaves
 * @param gridLength    samples of the response's DFT; four times its length or more, so that |H|² is smooth between
 *                      grid lines
 * @returns  mean squares re full scale, by band and grid line
 * @throws   RangeError if a value is outside its range or a band is ill-formed
 */
export function loopWeights(
  samples: ArrayLike<number>,
  sampleRateHz: number,
  bands: readonly Band[],
  gridLength: number,
): LoopWeights {
  requireInRange('samples.length', samples.length, { min: 2 })
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, max: 1e6, unit: 'Hz' })
  requireInRange('gridLength', gridLength, { min: 2, max: 2 ** 24, integer: true })
  const { re, im } = realDft(samples)
  const lineHz = sampleRateHz / samples.length
  const gridLines = Math.floor(gridLength / 2) + 1
  const powers = Float64Array.from(re, (value, k) => {
    const bothSides = 2 * k === samples.length ? 1 : 2
    return requireInRange(`spectrum[${k}]`, bothSides * (value ** 2 + (im[k] as number) ** 2)) / samples.length ** 2
  })

  /** Sums weighted lines onto the grid; line 0 is the constant part, which nobody hears. */
  const binned = (fromHz: number, toHz: number, transmission: (frequencyHz: number) => number): Float64Array => {
    const sums = new Float64Array(gridLines)
    const last = Math.min(powers.length - 1, Math.ceil(toHz / lineHz))
    for (let k = Math.max(1, Math.floor(fromHz / lineHz)); k <= last; k++) {
      const power = (powers[k] as number) * transmission(k * lineHz)
      const position = (k * gridLength) / samples.length
      const below = Math.floor(position)
      for (const [i, share] of cubicShares(position - below).entries()) {
        // |H|² is even about 0 Hz and about half the sample rate.
        const j = Math.abs(below - 1 + i)
        const mirrored = j < gridLines ? j : gridLength - j
        sums[mirrored] = (sums[mirrored] as number) + power * share
      }
    }
    return sums
  }

  const rows = bands.map((band) => {
    const fromHz = band.centreHz / reach
    const toHz = band.centreHz * reach
    const all = binned(fromHz, toHz, (frequencyHz) => 10 ** (-thirdOctaveAttenuationDb(frequencyHz, band) / 10))
    // Two grid lines more at each end, for the shares of the outermost lines.
    const gridLinesPerHz = gridLength / sampleRateHz
    const from = Math.max(0, Math.floor((fromHz - lineHz) * gridLinesPerHz) - 1)
    return { from, weights: all.slice(from, Math.ceil((toHz + lineHz) * gridLinesPerHz) + 3) }
  })
  return {
    bands,
    gridLength,
    rows,
    aWeighted: binned(0, sampleRateHz / 2, (frequencyHz) => 10 ** (aWeightingDb(frequencyHz) / 10)),
  }
}

/**
 * Levels of a loop as it arrives through a response:  L_b = 10 lg Σ_j w_bj |H_j|²
 *
 * The loop is periodic, so what arrives is its line spectrum times the response, and nothing else has to be rendered.
 *
 * @param loop      from `loopWeights`
 * @param response  impulse response, finite, 1 sample to half the grid's length
 * @returns  dB re 1 (full scale squared), a level a band and the A-weighted level of all; −Infinity where nothing arrives
 * @throws   RangeError for a response outside its range
 * Accuracy: with a grid four times as long as the response, within 0.01 dB of filtering the loop itself, in every band, for
 *           two arrivals as far apart as a seventh of the response; 0.3 dB in the worst band if they are as far apart as it is long.
 */
export function levelsThroughResponse(
  loop: LoopWeights,
  response: ArrayLike<number>,
): { bandLevelsDb: Float64Array; aWeightedDb: number } {
  requireInRange('response.length', response.length, { min: 1, max: Math.floor(loop.gridLength / 2), integer: true })
  const padded = new Float64Array(loop.gridLength)
  for (let n = 0; n < response.length; n++) padded[n] = requireInRange(`response[${n}]`, response[n] as number)
  const { re, im } = realDft(padded)
  const squares = re.map((value, j) => value * value + (im[j] as number) ** 2)
  const weighed = (from: number, weights: Float64Array): number => {
    let sum = 0
    for (let j = 0; j < weights.length; j++) sum += (weights[j] as number) * (squares[from + j] as number)
    // Some shares of a cubic are negative; where next to nothing arrives, rounding may leave less than nothing.
    return 10 * Math.log10(Math.max(0, sum))
  }
  return {
    bandLevelsDb: Float64Array.from(loop.rows, ({ from, weights }) => weighed(from, weights)),
    aWeightedDb: weighed(0, loop.aWeighted),
  }
}
