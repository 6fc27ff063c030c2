import { describe, expect, test } from 'vitest'
import { InputLevels, inputLevel } from '../../../src/sound/input-levels.ts'

const rate = 8000
const piece = (value: number, seconds = 0.1) =>
  Float32Array.from({ length: seconds * rate }, (_, n) => (n % 2 ? value : -value / 2))

describe('how loud an input is', () => {
  test.each([
    [0, 'none'],
    [1e-6, 'none'],
    // 20 lg 0.005 = −46 dB.
    [0.005, 'quiet'],
    [0.02, 'good'],
    // 20 lg 0.7 = −3.1 dB, 20 lg 0.72 = −2.9 dB.
    [0.7, 'good'],
    [0.72, 'loud'],
    // The highest number of 8 bits, where a clipped run begins to count.
    [126 / 128, 'loud'],
    [127 / 128, 'clipped'],
    [1.3, 'clipped'],
  ] as const)('a peak of %f is %s', (peak, state) => {
    expect(inputLevel(peak).state).toBe(state)
  })

  test('the peak is told re full scale: a half is −6.02 dB', () => {
    expect(inputLevel(0.5).peakDb).toBeCloseTo(-6.0206, 4)
    expect(inputLevel(0).peakDb).toBeNull()
  })
})

describe('levels of an input that comes piece by piece', () => {
  test('are those of the highest sample of the last three seconds, channel by channel', () => {
    const levels = new InputLevels(rate)
    levels.push([piece(1), piece(0.1)])
    for (let n = 0; n < 29; n++) levels.push([piece(0.5), piece(0.1)])
    expect(levels.levels().map(({ state }) => state)).toEqual(['clipped', 'good'])
    levels.push([piece(0.5), piece(0.1)])
    const [first, second] = levels.levels()
    expect(first?.peakDb).toBeCloseTo(-6.0206, 4)
    expect(second?.peakDb).toBeCloseTo(-20, 4)
  })

  test('there are none before something came, and one for an input of one channel', () => {
    const levels = new InputLevels(rate)
    expect(levels.levels()).toEqual([])
    levels.push([piece(0.5)])
    expect(levels.levels()).toHaveLength(1)
    expect(levels.isOneTwice).toBe(false)
  })

  test('two channels with the very same sound are one microphone; silence tells nothing', () => {
    const levels = new InputLevels(rate)
    for (let n = 0; n < 10; n++) levels.push([piece(0), piece(0)])
    expect(levels.isOneTwice).toBe(false)
    for (let n = 0; n < 4; n++) levels.push([piece(0.2), piece(0.2)])
    expect(levels.isOneTwice).toBe(false)
    for (let n = 0; n < 2; n++) levels.push([piece(0.2), piece(0.2)])
    expect(levels.isOneTwice).toBe(true)
  })

  test('one sample that differs makes them two for good', () => {
    const levels = new InputLevels(rate)
    const other = piece(0.2)
    other[17] = 0.1
    levels.push([piece(0.2), other])
    for (let n = 0; n < 20; n++) levels.push([piece(0.2), piece(0.2)])
    expect(levels.isOneTwice).toBe(false)
  })
})
