import { requireInRange } from '../numeric-range.ts'
import { type BlockDesign, blockDesign, gatherCells, hannPower, weightedSum } from './block-design.ts'
import { type BlockLevels, mostClippedRuns } from './block-levels.ts'
import { ClippedRuns } from './clipped-runs.ts'
import { recordingRateHz } from './recording-bands.ts'

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
 * Accuracy: class 1 limits of IEC 61260-1 hold for every band; a steady tone at a band's middle within 0.01 dB.
 */
export class LevelStream {
  readonly #sampleRateHz: number
  readonly #channelCount: number
  readonly #length: number
  readonly #design: BlockDesign
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
    const design = blockDesign(sampleRateHz)
    const { length, lineCount } = design
    this.#sampleRateHz = sampleRateHz
    this.#channelCount = channelCount
    this.#length = length
    this.#design = design
    this.#held = Array.from({ length: channelCount }, () => new Float32Array(length))
    this.#clipped = Array.from({ length: channelCount }, () => new ClippedRuns())
    this.#data = new Float64Array(2 * length)
    this.#spectrum = new Float64Array(2 * length)
    this.#cells = new Float64Array(design.cellCount)
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
      bandCount: this.#design.bands.length,
      detailCount: this.#design.details.length,
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
      const [first, second] = [this.#held[channel] as Float32Array, this.#held[channel + 1]]
      if (second) this.#transformPair(first, second)
      else this.#transform(first)
      const pair = Math.min(2, this.#channelCount - channel)
      for (let of = 0; of < pair; of++) this.#keep(this.#held[channel + of] as Float32Array, of as 0 | 1)
    }
    this.#blockCount += 1
  }

  /** A channel that is left over: half of a spectrum is enough, and half the work. */
  #transform(samples: Float32Array): void {
    const { fft, window: hann } = this.#design
    const data = this.#data.subarray(0, this.#length)
    for (let n = 0; n < hann.length; n++) data[n] = (hann[n] as number) * (samples[n] as number)
    fft.realTransform(this.#spectrum, data)
    const [lines] = this.#lines
    const scale = 2 / (this.#length * this.#length * hannPower)
    for (let k = 1; k < lines.length; k++) {
      lines[k] = scale * ((this.#spectrum[2 * k] as number) ** 2 + (this.#spectrum[2 * k + 1] as number) ** 2)
    }
  }

  #transformPair(first: Float32Array, second: Float32Array): void {
    const data = this.#data
    const { fft, window: hann } = this.#design
    for (let n = 0; n < hann.length; n++) {
      const weight = hann[n] as number
      data[2 * n] = weight * (first[n] as number)
      data[2 * n + 1] = weight * (second[n] as number)
    }
    fft.transform(this.#spectrum, data)
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
    gatherCells(lines, cells)
    for (const band of this.#design.bands) this.#bandPowers.push(weightedSum(cells, band))
    for (const band of this.#design.details) this.#detailPowers.push(weightedSum(lines, band))
    for (const weighting of this.#design.weighted) this.#weightedPowers.push(weightedSum(cells, weighting))
    let peak = 0
    for (let n = 0; n < samples.length; n++) {
      const magnitude = Math.abs(samples[n] as number)
      if (magnitude > peak) peak = magnitude
    }
    this.#peaks.push(peak)
  }
}
