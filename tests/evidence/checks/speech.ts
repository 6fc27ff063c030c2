import { thirdOctaveBands } from '../../../src/acoustics/bands/octave-bands.ts'
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
  kind: 'outside',
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

export const speechChecks: CheckGroup = { title: 'Speech-like source', checks: levels }
