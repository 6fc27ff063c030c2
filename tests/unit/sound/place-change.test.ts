import { expect, test } from 'vitest'
import { placeChangeDb } from '../../../src/sound/place-change.ts'

const sampleRateHz = 48000
const unit = new Float32Array([1])

test('the same place changes nothing; half the pressure is 6.02 dB less in every group', () => {
  expect(placeChangeDb({ here: unit, front: unit }, sampleRateHz)).toEqual({ bassDb: 0, middleDb: 0, trebleDb: 0 })
  const { bassDb, middleDb, trebleDb } = placeChangeDb({ here: new Float32Array([0.5]), front: unit }, sampleRateHz)
  for (const changeDb of [bassDb, middleDb, trebleDb]) expect(changeDb).toBeCloseTo(20 * Math.log10(0.5), 6)
})

test('a one-pole low-pass takes from each group what its closed form takes', () => {
  // y[n] = (1 − a) x[n] + a y[n−1]:  |H|² = (1 − a)² / (1 − 2 a cos ω + a²)
  const a = 0.93
  const here = Float32Array.from({ length: 4096 }, (_, n) => (1 - a) * a ** n)
  const levelDb = (frequencyHz: number) =>
    10 * Math.log10((1 - a) ** 2 / (1 - 2 * a * Math.cos((2 * Math.PI * frequencyHz) / sampleRateHz) + a * a))
  const groupDb = (from: number, to: number) => {
    const centresHz = Array.from({ length: 40 }, (_, n) => 1000 * 2 ** ((n - 20) / 3)).filter(
      (frequencyHz) => frequencyHz > from && frequencyHz < to,
    )
    const power = centresHz.reduce((sum, frequencyHz) => sum + 10 ** (levelDb(frequencyHz) / 10), 0)
    return 10 * Math.log10(power / centresHz.length)
  }
  const { bassDb, middleDb, trebleDb } = placeChangeDb({ here, front: unit }, sampleRateHz)
  // 0.1 dB: the mean of a band that falls by 2 dB from edge to edge lies that near to the level at its centre.
  expect(Math.abs(bassDb - groupDb(38, 170))).toBeLessThan(0.1)
  expect(Math.abs(middleDb - groupDb(190, 1700))).toBeLessThan(0.1)
  expect(Math.abs(trebleDb - groupDb(1900, 17000))).toBeLessThan(0.1)
})

test('where nothing arrives there is no level to tell', () => {
  expect(placeChangeDb({ here: new Float32Array(8), front: unit }, sampleRateHz).bassDb).toBe(-Infinity)
})
