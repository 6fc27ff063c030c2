import FFT from 'fft.js'
import { aWeightingDb, cWeightingDb } from '../hearing/frequency-weighting.ts'
import { requireInRange } from '../numeric-range.ts'
import { thirdOctaveAttenuationDb } from '../signals/third-octave-levels.ts'
import type { BlockLevels } from './block-levels.ts'
import { mostClippedRuns } from './block-levels.ts'
import { ClippedRuns } from './clipped-runs.ts'
import { detailBands, heldCount, recordingBands, recordingRateHz } from './recording-bands.ts'

/** Mean of the squared Hann window. */
const hannPower = 3 / 8
/** Shortest window, s: the lines then lie no more than 1 Hz apart, and 25 Hz has six of them. */
const shortestWindowS = 1
/** Ratio of frequencies beyond which a band filter, there 95 dB down, counts as shut. */
const reach = 1.8

/** From this line on, where a band is hundreds of lines wide, sixteen lines share one weight. */
const singleLines = 1024
const sharedBy = 16

/** Weights of neighbouring lines or cells, from one on. */
type Weights = { from: number; weights: Float64Array }

/** The samples of a block at a sample rate: the power of two that lasts 1 s or more, and at least half of it less than 1 s. */
export const windowLength = (sampleRateHz: number): number => 2 ** Math.ceil(Math.log2(shortestWindowS * sampleRateHz))

/**
 * Levels of a recording that comes piece by piece: third octaves 25 Hz … 16 kHz, twenty-fourth octaves, A and C, peaks and clipping.
 *
 * Blocks of N samples (1 s or more, less than 2 s), each begun N/2 after the one before, are weighted with a Hann window, transformed,
 * and the power of each line weighted with the squared magnitude of the class 1 band filter (thirdOctaveAttenuationDb), of A
 * or of C; a detail band takes the lines between its edges, of those at its edges their part. Only N samples a channel and
 * the results are kept: about 120 kB a minute of two channels.
 *
 * @param spec.sampleRateHz  8000 to 192 000 Hz; bands above half of it are not held
 * @param spec.channelCount  1 to 64
 * @throws RangeError if a value is outside its range
 * Source:  Welch, IEEE Trans. Audio Electroacoust. AU-15 (1967) 70–73, averaged periodograms; filters and weightings as there.
 * Accuracy: class 1 limits of IEC 61260-1 hold for every band; a steady tone at a band's middle within 0.02 dB from 50 Hz.
 */
export class LevelStream {
  readonly #sampleRateHz: number
  readonly #channelCount: number
  readonly #length: number
  readonly #fft: FFT
  readonly #window: Float64Array
  readonly #bands: Weights[]
  readonly #details: Weights[]
  readonly #weighted: Weights[]
  /** The last N samples of each channel, of which `filled` are there. */
  readonly #held: Float32Array[]
  #filled = 0
  #frames = 0
  readonly #clipped: ClippedRuns[]
  readonly #bandPowers: number[] = []
  readonly #detailPowers: number[] = []
  readonly #weightedPowers: number[] = []
  readonly #peaks: number[] = []
  #blockCount = 0
  readonly #data: Float64Array
  readonly #spectrum: Float64Array
  /** Powers of single lines, then of sixteen together. */
  readonly #cells: Float64Array
  readonly #lines: [Float64Array, Float64Array]

  constructor({ sampleRateHz, channelCount }: { sampleRateHz: number; channelCount: number }) {
    requireInRange('sampleRateHz', sampleRateHz, { ...recordingRateHz, unit: 'Hz' })
    requireInRange('channelCount', channelCount, { integer: true, min: 1, max: 64 })
    const length = windowLength(sampleRateHz)
    const spacingHz = sampleRateHz / length
    const lineCount = length / 2 + 1
    this.#sampleRateHz = sampleRateHz
    this.#channelCount = channelCount
    this.#length = length
    this.#fft = new FFT(length)
    this.#window = Float64Array.from({ length }, (_, n) => 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / length))
    this.#bands = recordingBands.slice(0, heldCount(recordingBands, sampleRateHz)).map((band) => {
      const from = cellOf(Math.max(1, Math.floor(band.centreHz / reach / spacingHz)))
      const to = cellOf(Math.min(lineCount - 1, Math.ceil((band.centreHz * reach) / spacingHz)))
      return weightsOf(from, to, (cell) =>
        cellMean(cell, (line) => 10 ** (-thirdOctaveAttenuationDb(line * spacingHz, band) / 10)),
      )
    })
    this.#details = detailBands.slice(0, heldCount(detailBands, sampleRateHz)).map(({ lowerHz, upperHz }) => {
      const [lower, upper] = [lowerHz / spacingHz, upperHz / spacingHz]
      const share = (k: number) => Math.max(0, Math.min(upper, k + 0.5) - Math.max(lower, k - 0.5))
      return weightsOf(Math.round(lower), Math.min(lineCount - 1, Math.round(upper)), share)
    })
    this.#weighted = [aWeightingDb, cWeightingDb].map((weightingDb) =>
      weightsOf(1, cellOf(lineCount - 1), (cell) =>
        cellMean(cell, (line) => 10 ** (weightingDb(line * spacingHz) / 10)),
      ),
    )
    this.#held = Array.from({ length: channelCount }, () => new Float32Array(length))
    this.#clipped = Array.from({ length: channelCount }, () => new ClippedRuns())
    this.#data = new Float64Array(2 * length)
    this.#spectrum = new Float64Array(2 * length)
    this.#cells = new Float64Array(cellOf(lineCount - 1) + 1)
    this.#lines = [new Float64Array(lineCount), new Float64Array(lineCount)]
  }

  /**
   * Takes the next samples.
   *
   * @param channels  one array a channel, all of one length, any length; full scale ±1, finite
   * @throws RangeError if the number of channels or their lengths differ from that
   */
  push(channels: readonly Float32Array[]): void {
    requireInRange('channels.length', channels.length, { min: this.#channelCount, max: this.#channelCount })
    const count = channels[0]?.length ?? 0
    for (const [i, samples] of channels.entries()) {
      requireInRange(`channels[${i}].length`, samples.length, { min: count, max: count })
      this.#clipped[i]?.push(samples)
    }
    for (let from = 0; from < count; ) {
      const taken = Math.min(count - from, this.#length - this.#filled)
      for (const [i, samples] of channels.entries()) {
        this.#held[i]?.set(samples.subarray(from, from + taken), this.#filled)
      }
      this.#filled += taken
      from += taken
      if (this.#filled === this.#length) {
        this.#takeBlock()
        for (const held of this.#held) held.copyWithin(0, this.#length / 2)
        this.#filled = this.#length / 2
      }
    }
    this.#frames += count
  }

  /** Everything that has been found until now. What came after the last whole block counts in duration and clipping alone. */
  levels(): BlockLevels {
    const found = this.#clipped.map((clipped, channel) => clipped.found(channel, this.#sampleRateHz))
    return {
      sampleRateHz: this.#sampleRateHz,
      channelCount: this.#channelCount,
      durationS: this.#frames / this.#sampleRateHz,
      windowS: this.#length / this.#sampleRateHz,
      hopS: this.#length / 2 / this.#sampleRateHz,
      blockCount: this.#blockCount,
      bandCount: this.#bands.length,
      detailCount: this.#details.length,
      bandPowers: Float64Array.from(this.#bandPowers),
      detailPowers: Float32Array.from(this.#detailPowers),
      weightedPowers: Float64Array.from(this.#weightedPowers),
      peaks: Float32Array.from(this.#peaks),
      clippedRuns: found
        .flatMap(({ runs }) => runs)
        .sort((a, b) => a.timeS - b.timeS)
        .slice(0, mostClippedRuns),
      clippedSamples: found.reduce((sum, { sampleCount }) => sum + sampleCount, 0),
    }
  }

  #takeBlock(): void {
    // Two real channels are one complex signal; their spectra are its even and its odd part.
    for (let channel = 0; channel < this.#channelCount; channel += 2) {
      this.#transform(this.#held[channel] as Float32Array, this.#held[channel + 1])
      const pair = Math.min(2, this.#channelCount - channel)
      for (let of = 0; of < pair; of++) this.#keep(this.#held[channel + of] as Float32Array, of as 0 | 1)
    }
    this.#blockCount += 1
  }

  #transform(first: Float32Array, second: Float32Array | undefined): void {
    const data = this.#data
    const window = this.#window
    for (let n = 0; n < window.length; n++) {
      const weight = window[n] as number
      data[2 * n] = weight * (first[n] as number)
      data[2 * n + 1] = second ? weight * (second[n] as number) : 0
    }
    this.#fft.transform(this.#spectrum, data)
    const [ofFirst, ofSecond] = this.#lines
    const z = this.#spectrum
    const length = this.#length
    // One-sided: half of (1/2)² of the sums below, twice.
    const scale = 1 / (2 * length * length * hannPower)
    for (let k = 1; k < ofFirst.length; k++) {
      const mirror = length - k
      const re = z[2 * k] as number
      const im = z[2 * k + 1] as number
      const mirrorRe = z[2 * mirror] as number
      const mirrorIm = z[2 * mirror + 1] as number
      ofFirst[k] = scale * ((re + mirrorRe) ** 2 + (im - mirrorIm) ** 2)
      ofSecond[k] = scale * ((re - mirrorRe) ** 2 + (im + mirrorIm) ** 2)
    }
  }

  #keep(samples: Float32Array, of: 0 | 1): void {
    const lines = this.#lines[of]
    const cells = this.#cells
    gather(lines, cells)
    for (const band of this.#bands) this.#bandPowers.push(weightedSum(cells, band))
    for (const band of this.#details) this.#detailPowers.push(weightedSum(lines, band))
    for (const weighting of this.#weighted) this.#weightedPowers.push(weightedSum(cells, weighting))
    let peak = 0
    for (let n = 0; n < samples.length; n++) {
      const magnitude = Math.abs(samples[n] as number)
      if (magnitude > peak) peak = magnitude
    }
    this.#peaks.push(peak)
  }
}

const cellOf = (line: number): number =>
  line < singleLines ? line : singleLines + Math.floor((line - singleLines) / sharedBy)

/** Mean of a weight over the lines of a cell. */
function cellMean(cell: number, weight: (line: number) => number): number {
  if (cell < singleLines) return weight(cell)
  const first = singleLines + (cell - singleLines) * sharedBy
  let sum = 0
  for (let i = 0; i < sharedBy; i++) sum += weight(first + i)
  return sum / sharedBy
}

function gather(lines: Float64Array, cells: Float64Array): void {
  const singles = Math.min(singleLines, lines.length)
  cells.set(lines.subarray(0, singles))
  for (let cell = singles, line = singles; line < lines.length; cell++) {
    const end = Math.min(lines.length, line + sharedBy)
    let sum = 0
    for (; line < end; line++) sum += lines[line] as number
    cells[cell] = sum
  }
}

const weightsOf = (from: number, to: number, weight: (index: number) => number): Weights => ({
  from,
  weights: Float64Array.from({ length: to - from + 1 }, (_, i) => weight(from + i)),
})

function weightedSum(lines: Float64Array, { from, weights }: Weights): number {
  let sum = 0
  for (let i = 0; i < weights.length; i++) sum += (weights[i] as number) * (lines[from + i] as number)
  return sum
}
