import { expect, test } from 'vitest'
import { levelled, pinkLevelsDb } from '../../../../src/engine/scene/hall-level-correction.ts'
import { heardBands } from '../../../../src/engine/scene/third-octaves.ts'

const sampleRateHz = 48000
const at = 400
const click = Float32Array.from({ length: 32768 }, (_, i) => (i === at ? 1 : 0))
const wantedDb = heardBands.map((_, i) => 3 * Math.sin(i))

test('every third octave comes to its wanted level, and nothing before the sound that is filtered', () => {
  const filtered = levelled(click, wantedDb, sampleRateHz)
  const levels = pinkLevelsDb(filtered, sampleRateHz)
  for (const [i, { nominalHz }] of heardBands.entries()) {
    expect(Math.abs((levels[i] as number) - (wantedDb[i] as number)), `${nominalHz} Hz`).toBeLessThan(0.5)
  }
  const energy = (from: number, to: number) => filtered.subarray(from, to).reduce((sum, x) => sum + x * x, 0)
  expect(energy(0, at) / energy(at, filtered.length)).toBeLessThan(1e-6)
})

test('a response at its levels stays as it is', () => {
  const same = levelled(click, pinkLevelsDb(click, sampleRateHz), sampleRateHz)
  same.forEach((value, i) => {
    expect(Math.abs(value - (click[i] as number))).toBeLessThan(1e-6)
  })
})
