import { amplitudeRatio, type Band, pinkMeanSquare, realDft } from '../../acoustics/index.ts'
import { type HalfSpectrum, inverseRealDft } from '../../acoustics/signals/dft.ts'
import { heardBands } from './third-octaves.ts'

/** Rounds in which the third octaves are brought to the predicted levels, and the largest change of one band in a round, dB. */
const correctionRounds = 3
const largestCorrectionDb = 4

/** Room behind the response for what the filter rings on, re its length. */
const room = 1.25

/** Levels of the third octaves of heardBands up to half the sample rate, dB. */
export function pinkLevelsDb(response: ArrayLike<number>, sampleRateHz: number): Float64Array {
  const spectrum = realDft(response)
  return Float64Array.from(
    bandsTo(sampleRateHz),
    (band) => 10 * Math.log10(Math.max(pinkMeanSquare(spectrum, band, sampleRateHz, response.length), 1e-30)),
  )
}

const bandsTo = (sampleRateHz: number): Band[] => heardBands.filter(({ upperHz }) => upperHz <= sampleRateHz / 2)

/**
 * The response with every third octave at its wanted level, by a filter of the least phase: straight lines in dB between mid-bands, and
 * nothing before the sound that it filters.
 *
 * @param wantedDb  levels of heardBands, dB
 */
export function levelled(response: Float32Array, wantedDb: ArrayLike<number>, sampleRateHz: number): Float32Array {
  const total = 2 * Math.ceil((room * response.length) / 2)
  const padded = new Float64Array(total)
  padded.set(response)
  const spectrum = realDft(padded)
  const bands = bandsTo(sampleRateHz)
  const lnGain = new Float64Array(spectrum.re.length)
  const is = { re: spectrum.re.slice(), im: spectrum.im.slice() }
  for (let round = 0; round < correctionRounds; round++) {
    const lackDb = bands.map((band, index) => {
      const isDb = 10 * Math.log10(Math.max(pinkMeanSquare(is, band, sampleRateHz, total), 1e-30))
      return Math.max(-largestCorrectionDb, Math.min(largestCorrectionDb, (wantedDb[index] as number) - isDb))
    })
    for (let k = 0; k < lnGain.length; k++) {
      const at = k === 0 ? 0 : 10 * Math.log10((k * sampleRateHz) / total / 1000) - (bands[0]?.index ?? 0)
      const low = Math.max(0, Math.min(bands.length - 1, Math.floor(at)))
      const high = Math.min(bands.length - 1, low + 1)
      const share = Math.max(0, Math.min(1, at - low))
      const gain = amplitudeRatio((lackDb[low] as number) * (1 - share) + (lackDb[high] as number) * share)
      lnGain[k] = (lnGain[k] as number) + Math.log(gain)
      is.re[k] = (is.re[k] as number) * gain
      is.im[k] = (is.im[k] as number) * gain
    }
  }
  const filter = leastPhase(lnGain, total)
  for (let k = 0; k < lnGain.length; k++) {
    const [a, b] = [spectrum.re[k] as number, spectrum.im[k] as number]
    spectrum.re[k] = a * (filter.re[k] as number) - b * (filter.im[k] as number)
    spectrum.im[k] = a * (filter.im[k] as number) + b * (filter.re[k] as number)
  }
  return Float32Array.from(inverseRealDft(spectrum, total).subarray(0, response.length))
}

/**
 * The filter of least phase (minimum phase) with a given gain: the part of its cepstrum before 0 folded onto the part after.
 *
 * Source: Oppenheim & Schafer, Discrete-Time Signal Processing, chapter on the complex cepstrum.
 */
function leastPhase(lnGain: Float64Array, length: number): HalfSpectrum {
  const cepstrum = inverseRealDft({ re: lnGain, im: new Float64Array(lnGain.length) }, length)
  for (let i = 1; i < length; i++) {
    if (i < length / 2) cepstrum[i] = 2 * (cepstrum[i] as number)
    else if (i > length / 2) cepstrum[i] = 0
  }
  const { re, im } = realDft(cepstrum)
  for (let k = 0; k < re.length; k++) {
    const size = Math.exp(re[k] as number)
    const phaseRad = im[k] as number
    re[k] = size * Math.cos(phaseRad)
    im[k] = size * Math.sin(phaseRad)
  }
  return { re, im }
}
