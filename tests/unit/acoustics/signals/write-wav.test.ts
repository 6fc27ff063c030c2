import { describe, expect, test } from 'vitest'
import { readWav } from '../../../../src/acoustics/signals/read-wav.ts'
import { type WavKind, writeWav } from '../../../../src/acoustics/signals/write-wav.ts'

const written = [0, 0.25, -0.5, 0.99, -1, 1, 0.3]

describe('a WAV file of our own', () => {
  test.each<[WavKind, number]>([
    ['pcm16', 2 / 32768],
    ['pcm24', 2 / 2 ** 23],
    ['float32', 1e-7],
  ])('of %s holds the samples again within dither and rounding', (kind, step) => {
    const read = readWav(writeWav({ sampleRateHz: 44100, channels: [written, written.map((x) => -x)] }, kind))
    expect(read.sampleRateHz).toBe(44100)
    expect(read.channels).toHaveLength(2)
    for (const [n, sample] of written.entries()) {
      expect(Math.abs((read.channels[0]?.[n] as number) - sample)).toBeLessThanOrEqual(step)
      expect(Math.abs((read.channels[1]?.[n] as number) + sample)).toBeLessThanOrEqual(step)
    }
  })

  test('is the same for the same seed and another for another', () => {
    const file = (seed: number) => writeWav({ sampleRateHz: 48000, channels: [new Float32Array(400)] }, 'pcm16', seed)
    expect(file(3)).toEqual(file(3))
    expect(file(3)).not.toEqual(file(4))
  })

  test('has a byte of padding behind an odd number of bytes, and says its own length', () => {
    const file = writeWav({ sampleRateHz: 48000, channels: [[0.1, 0.2, 0.3]] }, 'pcm24')
    expect(file.length).toBe(44 + 10)
    expect(new DataView(file.buffer).getUint32(4, true)).toBe(file.length - 8)
    expect(new DataView(file.buffer).getUint32(40, true)).toBe(9)
  })

  test('is refused in words for what does not fit in', () => {
    expect(() => writeWav({ sampleRateHz: 48000, channels: [] })).toThrow(
      /channels.length is 0; allowed is a whole number from 1 to 64/,
    )
    expect(() => writeWav({ sampleRateHz: 48000, channels: [[0, 1.2]] })).toThrow(
      /channels\[0\]\[1\] is 1.2; allowed is .* from -1 to 1/,
    )
    expect(() => writeWav({ sampleRateHz: 48000, channels: [[Number.NaN]] })).toThrow(/is NaN/)
    expect(() => writeWav({ sampleRateHz: 48000, channels: [[0], [0, 0]] })).toThrow(/channels\[1\].length is 2/)
    expect(() => writeWav({ sampleRateHz: 0.5, channels: [[0]] })).toThrow(/sampleRateHz is 0.5/)
  })
})
