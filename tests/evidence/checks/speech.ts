import { thirdOctaveBands } from '../../../src/acoustics/bands/octave-bands.ts'
import { realDft } from '../../../src/acoustics/signals/dft.ts'
import { speechLike } from '../../../src/acoustics/signals/speech-like.ts'
import { thirdOctaveLevelsDb } from '../../../src/acoustics/signals/third-octave-levels.ts'
import type { Check, CheckGroup } from '../check.ts'
import spectrum from '../reference/speech-spectrum.json' with { type: 'json' }

const sampleRateHz = 48000
const input = 'the loop at 48 kHz, its level set to 70 dB'

/** The loop and its third-octave levels, made at the first use. */
let made: { samples: Float32Array; levelsDb: number[] } | undefined
function loop(): { samples: Float32Array; levelsDb: number[] } {
  if (!made) {
    const samples = speechLike({ sampleRateHz })
    const overallDb = 10 * Math.log10(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)
    const levelsDb = thirdOctaveLevelsDb(samples, sampleRateHz, thirdOctaveBands(63, 16000))
    made = { samples, levelsDb: Array.from(levelsDb, (levelDb) => levelDb - overallDb + 70) }
  }
  return made
}

const levels: Check[] = spectrum.rows.map(({ nominalHz, levelDb }, i) => ({
  id: `speech-level-${nominalHz}`,
  quantity: `Speech-like source: level in third octave ${nominalHz} Hz`,
  unit: 'dB',
  source: 'byrne-1994-speech-spectra',
  place: 'Table II, combined',
  input,
  expected: levelDb,
  tolerance: 0.1,
  toleranceReason: 'the table is rounded to 0.1 dB and its bands add up to 70 dB within 0.05 dB',
  computed: () => loop().levelsDb[i] as number,
}))

/**
 * Power of the envelope's changes in the third octave round a rate, dB. The envelope is the root mean square of pieces of
 * 4 ms, analysed as one period.
 */
function modulationDb(rateHz: number): number {
  const { samples } = loop()
  const piece = Math.round(0.004 * sampleRateHz)
  const envelope = Float64Array.from({ length: Math.floor(samples.length / piece) }, (_, i) => {
    const part = samples.subarray(i * piece, (i + 1) * piece)
    return Math.sqrt(part.reduce((sum, sample) => sum + sample * sample, 0) / piece)
  })
  const { re, im } = realDft(envelope)
  let power = 0
  for (let k = 1; k < re.length; k++) {
    const lineHz = (k * sampleRateHz) / samples.length
    if (Math.abs(Math.log2(lineHz / rateHz)) < 1 / 6) power += (re[k] as number) ** 2 + (im[k] as number) ** 2
  }
  return 10 * Math.log10(power)
}

const rhythm: Check = {
  id: 'speech-modulation-peak',
  quantity: 'Speech-like source: rate at which its loudness changes most',
  unit: 'octaves from 5 Hz',
  source: 'ding-2017-modulations',
  place: 'abstract: speech has a broad peak around 5 Hz in nine languages',
  input: 'envelope of the loop in pieces of 4 ms; third octaves 0.5 … 32 Hz',
  expected: 0,
  tolerance: 0.68,
  toleranceReason: 'the peak is called broad; two third octaves and their half width of a sixth leave 3.1 to 8 Hz',
  computed: () => {
    const rates = Array.from({ length: 19 }, (_, i) => 0.5 * 2 ** (i / 3))
    const loudest = rates.reduce((best, rateHz) => (modulationDb(rateHz) > modulationDb(best) ? rateHz : best))
    return Math.log2(loudest / 5)
  },
}

export const speechChecks: CheckGroup = { title: 'Speech-like source', checks: [...levels, rhythm] }
