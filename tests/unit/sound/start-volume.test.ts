import { expect, test } from 'vitest'
import { realDft } from '../../../src/acoustics/signals/dft.ts'
import { pinkNoise } from '../../../src/acoustics/signals/pink-noise.ts'
import { walkResponses } from '../../../src/engine/questions/walk/walk-responses.ts'
import { loadSolvedRig } from '../../../src/engine/scene/solved-gear.ts'
import { startVolumeDb } from '../../../src/sound/audition-types.ts'
import { demoRigNames, rigOf } from '../../demo-gear.ts'

const sampleRateHz = 48000

/** |H|² of a second-order filter. */
const filter =
  ([b0, b1, b2]: [number, number, number], [a1, a2]: [number, number]) =>
  (frequencyHz: number) => {
    const w = (2 * Math.PI * frequencyHz) / sampleRateHz
    const squared = (c0: number, c1: number, c2: number) =>
      (c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w)) ** 2 + (c1 * Math.sin(w) + c2 * Math.sin(2 * w)) ** 2
    return squared(b0, b1, b2) / squared(1, a1, a2)
  }
/** K weighting at 48 kHz: ITU-R BS.1770, tables 1 and 2; coefficients from memory, held by the check below. */
const head = filter([1.53512485958697, -2.69169618940638, 1.19839281085285], [-1.69065929318241, 0.73248077421585])
const highPass = filter([1, -2, 1], [-1.99004745483398, 0.99007225036621])
const kWeighting = (frequencyHz: number) => head(frequencyHz) * highPass(frequencyHz)

/** Programme loudness of a loop through a response, the same in both channels, LUFS. */
function loudnessLufs(loop: Float32Array, response: Float32Array): number {
  const padded = new Float32Array(loop.length)
  padded.set(response)
  const [x, h] = [realDft(loop), realDft(padded)]
  let meanSquare = 0
  for (let k = 1; k < x.re.length; k++) {
    const power = (re: number, im: number) => re * re + im * im
    meanSquare +=
      2 *
      power(x.re[k] ?? 0, x.im[k] ?? 0) *
      power(h.re[k] ?? 0, h.im[k] ?? 0) *
      kWeighting((k * sampleRateHz) / loop.length)
  }
  return -0.691 + 10 * Math.log10((2 * meanSquare) / loop.length ** 2)
}

test('K weighting reads a sine of 997 Hz at full scale in one channel as −3.01 LKFS', () => {
  // ITU-R BS.1770, annex 1, given to two decimals.
  expect(-0.691 + 10 * Math.log10(kWeighting(997) / 2)).toBeCloseTo(-3.01, 2)
})

test('at the volume that a page begins with the front is as loud as a broadcast programme', async () => {
  const noise = pinkNoise({ sampleRateHz, durationS: 8, seed: 20 })
  for (const name of demoRigNames()) {
    const rig = rigOf(name)
    await loadSolvedRig(rig)
    const place = { angleRad: Math.PI, distanceM: 2.5 }
    const { front, here } = walkResponses({ rig, place, datum: 'front-face', sampleRateHz, length: 8192 })
    // EBU R 128: −23 LUFS, and ±1 LU where it cannot be met exactly.
    expect(Math.abs(loudnessLufs(noise, front) + startVolumeDb + 23)).toBeLessThan(1)
    // Behind it is quieter, and still well over what a quiet room leaves audible: common practice, no source.
    expect(loudnessLufs(noise, here) + startVolumeDb).toBeGreaterThan(-35)
  }
})
