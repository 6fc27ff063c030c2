import type { Band } from '../bands/octave-bands.ts'
import { thirdOctaveBands } from '../bands/octave-bands.ts'
import { requireInRange } from '../numeric-range.ts'
import { realDft } from './dft.ts'

/** Signals longer than this are analysed in blocks, to bound the memory. */
const longestWhole = 2 ** 21
const blockLength = 2 ** 20

/**
 * Poles of the low-pass prototype. Three would do for class 1, but leave skirts that fill a band on a steep slope from
 * its neighbour: 0.6 dB too much where a level falls by 12 dB a band, as it does behind a loudspeaker. Eight keep that
 * below 0.1 dB.
 */
const poles = 8

/**
 * Effective noise bandwidth of a Butterworth low-pass of n poles over its corner frequency:
 * ∫₀^∞ dx / (1 + x²ⁿ) = π / (2n sin(π/2n)), 1.0065 for n = 8. The band-pass made from it has the same ratio exactly.
 */
const noiseBandwidthRatio = Math.PI / (2 * poles * Math.sin(Math.PI / (2 * poles)))

/**
 * Attenuation of the band filter at a frequency:  A = 10 lg (1 + [Q (f/f_m − f_m/f)]¹⁶),  Q = 1.0065 f_m / (f₂ − f₁)
 *
 * A Butterworth band-pass made from a prototype of eight poles. Its corners lie a little inside the band edges f₁ and f₂,
 * so that it passes as much white noise as an ideal filter from edge to edge.
 *
 * @param frequencyHz  f, above 0 to 1 000 000 Hz
 * @param band         a third octave, or an octave
 * @returns  dB, 0 at the band centre
 * @throws   RangeError if the frequency is outside its range or the band's edges do not enclose its centre
 * Source:   inside the class 1 limits of IEC 61260-1:2014, Table 1, for octaves and third octaves.
 */
export function thirdOctaveAttenuationDb(frequencyHz: number, band: Band): number {
  requireInRange('frequencyHz', frequencyHz, { above: 0, max: 1e6, unit: 'Hz' })
  requireBand('band', band)
  return -10 * Math.log10(powerTransmission(frequencyHz, band))
}

/**
 * Levels of a signal in third octaves (or any bands):  L = 10 lg (mean square of the filtered signal)
 *
 * The signal is taken as one period of a periodic signal: its DFT is weighted with the filter's squared magnitude. So a
 * loop is analysed exactly, and no filter has to settle. A recording that does not close on itself has a step at the
 * seam; its power in a band falls with the square of frequency times duration. A band needs a signal of several times
 * 1/bandwidth (for 25 Hz: about 1 s) to mean much. Signals over 2²¹ samples are cut into blocks of 2²⁰ (the last one
 * longer), each taken so, and averaged by energy.
 *
 * @param samples       at least one sample, finite; full scale 1, or any unit (then levels are re that unit)
 * @param sampleRateHz  above 0 to 1 000 000 Hz
 * @param bands         bands whose upper edge is at most half the sample rate; default: third octaves from 25 Hz to the
 *                      highest, up to 20 kHz, whose upper edge lies below half the sample rate
 * @returns  dB re 1 (one unit squared), one level a band; −Infinity where there is nothing at all
 * @throws   RangeError if there are no samples, a sample is not finite, the rate is outside its range or below what 25 Hz
 *           needs, or a band is ill-formed or reaches above half the sample rate
 * Source:   the filters of thirdOctaveAttenuationDb, inside the class 1 limits of IEC 61260-1:2014.
 */
export function thirdOctaveLevelsDb(samples: Float32Array, sampleRateHz: number, bands?: Band[]): Float64Array {
  requireInRange('samples.length', samples.length, { min: 1 })
  requireInRange('sampleRateHz', sampleRateHz, { above: 0, max: 1e6, unit: 'Hz' })
  const chosen = bands ?? defaultBands(sampleRateHz)
  for (const [i, band] of chosen.entries()) {
    requireBand(`bands[${i}]`, band)
    requireInRange(`bands[${i}].upperHz`, band.upperHz, { max: sampleRateHz / 2, unit: 'Hz (half the sample rate)' })
  }
  const broken = samples.findIndex((sample) => !Number.isFinite(sample))
  if (broken >= 0) requireInRange(`samples[${broken}]`, samples[broken] as number)

  const energies = new Float64Array(chosen.length)
  for (const { length, linePowers } of blockSpectra(samples)) {
    for (const [i, band] of chosen.entries()) {
      energies[i] = (energies[i] as number) + bandPower(linePowers, sampleRateHz / length, band)
    }
  }
  return energies.map((energy) => 10 * Math.log10(energy / samples.length))
}

/** Third octaves from 25 Hz to the highest, up to 20 kHz, that ends below half the sample rate. */
function defaultBands(sampleRateHz: number): Band[] {
  const bands = thirdOctaveBands(25, 20000).filter((band) => band.upperHz < sampleRateHz / 2)
  if (bands.length === 0) {
    throw new RangeError(
      `sampleRateHz is ${sampleRateHz}; allowed without own bands is above 56.37 Hz, twice the upper edge of 25 Hz`,
    )
  }
  return bands
}

/**
 * Line powers of the blocks, each weighted with the block's number of samples; blocks of the same length are summed.
 * Entry k holds the sum of (mean square of line k) × (block length).
 */
function blockSpectra(samples: Float32Array): { length: number; linePowers: Float64Array }[] {
  // The last block takes in the remainder, so that no block is too short for the lowest bands.
  const blocks = samples.length > longestWhole ? Math.floor(samples.length / blockLength) : 1
  const sums = new Map<number, Float64Array>()
  for (let block = 0; block < blocks; block++) {
    const start = block * blockLength
    const end = block === blocks - 1 ? samples.length : start + blockLength
    const length = end - start
    const { re, im } = realDft(samples.subarray(start, end))
    const linePowers = sums.get(length) ?? new Float64Array(re.length)
    for (let k = 0; k < re.length; k++) {
      const bothSides = k === 0 || 2 * k === length ? 1 : 2
      const square = (re[k] as number) ** 2 + (im[k] as number) ** 2
      linePowers[k] = (linePowers[k] as number) + (bothSides * square) / length
    }
    sums.set(length, linePowers)
  }
  return [...sums].map(([length, linePowers]) => ({ length, linePowers }))
}

function bandPower(linePowers: Float64Array, lineSpacingHz: number, band: Band): number {
  let power = 0
  // Line 0 is the constant part, which no band-pass lets through.
  for (let k = 1; k < linePowers.length; k++) {
    power += (linePowers[k] as number) * powerTransmission(k * lineSpacingHz, band)
  }
  return power
}

function powerTransmission(frequencyHz: number, band: Band): number {
  const q = (noiseBandwidthRatio * band.centreHz) / (band.upperHz - band.lowerHz)
  const x = q * (frequencyHz / band.centreHz - band.centreHz / frequencyHz)
  // x to the power of 2 · poles, which is a power of two, by squaring: many times as fast.
  let power = x * x
  for (let pole = 1; pole < poles; pole *= 2) power *= power
  return 1 / (1 + power)
}

function requireBand(name: string, band: Band): void {
  requireInRange(`${name}.lowerHz`, band.lowerHz, { above: 0, unit: 'Hz' })
  requireInRange(`${name}.centreHz`, band.centreHz, { above: band.lowerHz, below: band.upperHz, unit: 'Hz' })
  requireInRange(`${name}.upperHz`, band.upperHz, { above: band.centreHz, max: 1e6, unit: 'Hz' })
}
