import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { pinkNoise, type Rig, thirdOctaveBands, thirdOctaveLevelsDb } from '../../../../../src/acoustics/index.ts'
import { inverseRealDft, realDft } from '../../../../../src/acoustics/signals/dft.ts'
import { blindResponses } from '../../../../../src/engine/questions/blind/blind.ts'
import { bassDifferencesDb, type blindStages } from '../../../../../src/engine/questions/blind/blind-terms.ts'
import { walkAnswer } from '../../../../../src/engine/questions/walk/walk.ts'
import { walkResponses } from '../../../../../src/engine/questions/walk/walk-responses.ts'
import { usualDbA } from '../../../../../src/engine/scene/scene-terms.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import { spectrumBands } from '../../../../../src/engine/scene/third-octaves.ts'

const rig: Rig = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../../content/gear/top-over-sub.json'), 'utf8'),
)
await loadSolvedRig(rig)
const sampleRateHz = 48000
const question = {
  rig,
  place: { angleRad: Math.PI, distanceM: 2.5 },
  datum: 'front-face' as const,
  sampleRateHz,
  length: 8192,
}
const of = (stage: (typeof blindStages)[number]) => blindResponses({ ...question, stage })

/** Pink noise through a response, by third octave: both as periodic signals, as a convolver treats a steady loop. */
function levels(response: Float32Array, bands = spectrumBands): Float64Array {
  const noise = pinkNoise({ sampleRateHz, durationS: 4, seed: 3 })
  const padded = new Float32Array(noise.length)
  padded.set(response)
  const [a, b] = [realDft(noise), realDft(padded)]
  const re = a.re.map((value, i) => value * (b.re[i] ?? 0) - (a.im[i] ?? 0) * (b.im[i] ?? 0))
  const im = a.re.map((value, i) => value * (b.im[i] ?? 0) + (a.im[i] ?? 0) * (b.re[i] ?? 0))
  return thirdOctaveLevelsDb(Float32Array.from(inverseRealDft({ re, im }, noise.length)), sampleRateHz, bands)
}

describe('the stages of the blind comparison', () => {
  test('the first two play the walk’s own responses, the second matched at the level in front', () => {
    const plain = walkResponses(question)
    for (const stage of ['true-level', 'matched'] as const) {
      const { here, front, matched, frontLevelDbA } = of(stage)
      expect(here).toEqual(plain.here)
      expect(front).toEqual(plain.front)
      expect(matched).toBe(stage === 'matched')
      expect(frontLevelDbA).toBe(walkAnswer(question).heard.front.aWeightedDb)
    }
  })

  test('bass alone: the same difference between the places as before, and nothing else left', () => {
    const [whole, bass] = [of('matched'), of('bass-alone')]
    const bands = thirdOctaveBands(40, 125)
    const difference = (at: typeof whole) => {
      const [here, front] = [levels(at.here, bands), levels(at.front, bands)]
      return here.map((level, i) => level - (front[i] as number))
    }
    const [before, after] = [difference(whole), difference(bass)]
    // 0.2 dB: the cut tilts the noise within the highest bands, where the difference is not even either.
    for (const [i, level] of after.entries()) expect(Math.abs(level - (before[i] as number))).toBeLessThan(0.2)
    // 48 dB an octave: 400 Hz is 1.32 octaves above 160 Hz, 63 dB down; 3 dB for the difference of the places.
    const far = thirdOctaveBands(400, 2000)
    for (const place of ['here', 'front'] as const) {
      const [without, cut] = [levels(whole[place], far), levels(bass[place], far)]
      for (const [i, level] of cut.entries()) expect((without[i] as number) - level).toBeGreaterThan(55)
    }
  })

  test('the cut rings out within the response', () => {
    for (const response of [of('bass-alone').here, of('bass-alone').front]) {
      const energy = (from: number, to: number) =>
        response.subarray(from, to).reduce((sum, sample) => sum + sample ** 2, 0)
      // −40 dB: what is left there comes round to the beginning.
      expect(energy(7000, 8192) / energy(0, 8192)).toBeLessThan(1e-4)
    }
  })

  test('the level in front of the bass alone is what a measurement of the noise gives', () => {
    const [whole, bass] = [of('matched'), of('bass-alone')]
    const weighted = (response: Float32Array) =>
      10 *
      Math.log10(levels(response).reduce((sum, level, i) => sum + 10 ** ((level + (aWeights[i] as number)) / 10), 0))
    const measured = weighted(bass.front) - weighted(whole.front)
    // 1 dB: the module takes each band as flat within itself; the match moves by 0.05 dB for 15 dB.
    expect(Math.abs(bass.frontLevelDbA - whole.frontLevelDbA - measured)).toBeLessThan(1)
    expect(bass.frontLevelDbA).toBeLessThan(whole.frontLevelDbA - 15)
  })

  test('what is out of range is named', () => {
    expect(() => blindResponses({ ...question, stage: 'loud' as 'matched' })).toThrow(
      /^stage is loud; allowed is true-/,
    )
    expect(() => blindResponses({ ...question, stage: 'matched', referenceDbA: usualDbA + 100 })).toThrow(
      /^referenceDbA is 185/,
    )
  })
})

describe('the differences within the bass', () => {
  test('are those of the third octaves from 40 to 160 Hz', () => {
    const frontDb = spectrumBands.map(() => 1)
    const hereDb = spectrumBands.map(({ nominalHz }) => (nominalHz < 40 || nominalHz > 160 ? -50 : -nominalHz / 100))
    expect(bassDifferencesDb({ hereDb, frontDb })).toEqual({ least: -2.6, most: -1.4 })
  })
})

/** A weighting of the bands' centres, from IEC 61672-1, Table 3 (nominal frequencies 31.5 Hz to 16 kHz). */
const aWeights = [
  -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8, -3.2, -1.9, -0.8, 0, 0.6, 1, 1.2,
  1.3, 1.2, 1, 0.5, -0.1, -1.1, -2.5, -4.3, -6.6,
]
