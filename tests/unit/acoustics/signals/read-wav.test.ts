import { Buffer } from 'node:buffer'
import { describe, expect, test } from 'vitest'
import { readWav } from '../../../../src/acoustics/index.ts'

/** Written by other programs: SciPy 1.17.1 (wavfile.write), Python 3.11 (wave) and SoX 14.4.2 (the extensible ones). */
const files = {
  pcm16: 'UklGRi4AAABXQVZFZm10IBAAAAABAAEARKwAAIhYAQACABAAZGF0YQoAAAAAAAAgAMC4fgCA',
  pcm32stereo:
    'UklGRkwAAABXQVZFZm10IBAAAAABAAIAgLsAAADcBQAIACAAZGF0YSgAAAAAAAAAAAAAAAAAACAAAAAAAAAAwAAAAADrUbh+AAAAAAAAAIAAAAAA',
  float32stereo:
    'UklGRloAAABXQVZFZm10IBIAAAADAAIAAHcBAAC4CwAIACAAAABmYWN0BAAAAAUAAABkYXRhKAAAAAAAAAAAAACAAACAPgAAAL4AAAC/AACAPqRwfT+kcP2+AACAvwAAAD8=',
  float64:
    'UklGRloAAABXQVZFZm10IBIAAAADAAEAgLsAAADcBQAIAEAAAABmYWN0BAAAAAUAAABkYXRhKAAAAAAAAAAAAAAAAAAAAAAA0D8AAAAAAADgv65H4XoUru8/AAAAAAAA8L8=',
  pcm24stereo: 'UklGRkIAAABXQVZFZm10IBAAAAABAAIAgLsAAABlBAAGABgAZGF0YR4AAAAAAAAAAAAAACAAAAAAAMAAAABRuH4AAAAAAIAAAAA=',
  extensible24:
    'UklGRlgAAABXQVZFZm10ICgAAAD+/wEAgLsAAIAyAgADABgAFgAYAAQAAAABAAAAAAAQAIAAAKoAOJtxZmFjdAQAAAAFAAAAZGF0YQ8AAAAAAAAAACAAAMBSuH4AAIAA',
  extensible16three:
    'UklGRmYAAABXQVZFZm10ICgAAAD+/wMAgLsAAABlBAAGABAAFgAQAAAAAAABAAAAAAAQAIAAAKoAOJtxZmFjdAQAAAAFAAAAZGF0YR4AAAAAAAAAAAAAIAAgACAAwADAAMC4frh+uH4AgACAAIA=',
}
const bytesOf = (name: keyof typeof files): Uint8Array => Uint8Array.from(Buffer.from(files[name], 'base64'))
const written = [0, 0.25, -0.5, 0.99, -1]

/** A file of our own, for what other programs do not write. */
function wav(format: number[], data: number[], before: number[] = []): Uint8Array {
  const chunk = (name: string, body: number[]) => [
    ...Buffer.from(name),
    ...new Uint8Array(Uint32Array.of(body.length).buffer),
    ...body,
    ...(body.length % 2 ? [0] : []),
  ]
  const body = [...Buffer.from('WAVE'), ...before, ...chunk('fmt ', format), ...chunk('data', data)]
  return Uint8Array.from([...Buffer.from('RIFF'), ...new Uint8Array(Uint32Array.of(body.length).buffer), ...body])
}
const format = (tag: number, channels: number, rateHz: number, bits: number): number[] => [
  ...new Uint8Array(Uint16Array.of(tag, channels).buffer),
  ...new Uint8Array(Uint32Array.of(rateHz, (rateHz * channels * bits) / 8).buffer),
  ...new Uint8Array(Uint16Array.of((channels * bits) / 8, bits).buffer),
]

describe('a WAV file', () => {
  test.each([
    ['pcm16', 44100, 1, 2 ** -15],
    ['pcm24stereo', 48000, 2, 2 ** -23],
    ['pcm32stereo', 48000, 2, 2 ** -24],
    ['float32stereo', 96000, 2, 2 ** -24],
    ['float64', 48000, 1, 2 ** -24],
    ['extensible24', 48000, 1, 2 ** -15],
    ['extensible16three', 48000, 3, 2 ** -15],
  ] as const)('%s gives back what was written into it', (name, sampleRateHz, count, step) => {
    const recording = readWav(bytesOf(name))
    expect(recording.sampleRateHz).toBe(sampleRateHz)
    expect(recording.channels).toHaveLength(count)
    expect(recording.channels[0]).toHaveLength(written.length)
    written.forEach((value, index) => {
      expect(Math.abs((recording.channels[0]?.[index] as number) - value)).toBeLessThanOrEqual(step)
    })
  })

  test('channels are kept apart', () => {
    const [left, right] = readWav(bytesOf('float32stereo')).channels
    for (const [index, sample] of (left as Float32Array).entries()) expect(right?.[index]).toBeCloseTo(-sample / 2, 7)
  })

  test('a part of odd length before the samples is passed over with its padding', () => {
    const note = [...Buffer.from('note'), 3, 0, 0, 0, 1, 2, 3, 0]
    expect(Array.from(readWav(wav(format(1, 1, 8000, 16), [0, 64], note)).channels[0] as Float32Array)).toEqual([0.5])
  })

  test('a view into a larger buffer is read from its own beginning', () => {
    const bytes = bytesOf('pcm16')
    const larger = new Uint8Array(bytes.length + 7)
    larger.set(bytes, 7)
    expect(readWav(larger.subarray(7)).channels).toEqual(readWav(bytes).channels)
  })

  test('a writer that did not know the length is read to the end of the file', () => {
    const bytes = wav(format(1, 1, 8000, 16), [0, 64, 0, 32])
    new DataView(bytes.buffer).setUint32(40, 0xffffffff, true)
    expect(Array.from(readWav(bytes).channels[0] as Float32Array)).toEqual([0.5, 0.25])
  })

  test('8 bits lie around 128, as written by SciPy', () => {
    // scipy.io.wavfile.write of uint8 0, 64, 128, 192, 255 at 8 kHz, SciPy 1.17.1
    const bytes = 'UklGRikAAABXQVZFZm10IBAAAAABAAEAQB8AAEAfAAABAAgAZGF0YQUAAAAAQIDA/w=='
    const samples = readWav(Uint8Array.from(Buffer.from(bytes, 'base64'))).channels[0] as Float32Array
    expect(Array.from(samples)).toEqual([-1, -0.5, 0, 0.5, 127 / 128])
  })

  test('a file without a sample gives channels without a sample', () => {
    expect(readWav(wav(format(1, 2, 8000, 16), [])).channels.map((channel) => channel.length)).toEqual([0, 0])
  })

  test.each([
    ['no WAV', Uint8Array.from(Buffer.from('ID3 something else')), /no WAV file/],
    ['nothing', new Uint8Array(), /empty/],
    ['a cut one', bytesOf('pcm16').subarray(0, 48), /cut short/],
    ['12 bits', wav(format(1, 1, 8000, 12), [0, 0]), /PCM samples of 12 bits; allowed is 8, 16, 24 or 32/],
    ['16-bit float', wav(format(3, 1, 8000, 16), [0, 0]), /float samples of 16 bits; allowed is 32 or 64/],
    ['a compressed one', wav(format(85, 1, 8000, 16), [0, 0]), /format 85.*PCM \(1\) or float \(3\)/],
    ['an unknown sub-format', wav([...format(0xfffe, 1, 8000, 16), ...Array(24).fill(9)], [0, 0]), /way of its own/],
    ['no channel', wav(format(1, 0, 8000, 16), [0, 0]), /0 channels/],
    ['no sample rate', wav(format(1, 1, 0, 16), [0, 0]), /0 Hz/],
    ['no samples', wav(format(1, 1, 8000, 16), []).subarray(0, 36), /no samples/],
    ['a sample that is no number', wav(format(3, 1, 8000, 32), [0, 0, 0xc0, 0x7f]), /Sample 0 of channel 1.*NaN/],
  ])('%s is refused in plain words', (_, bytes, message) => {
    expect(() => readWav(bytes)).toThrow(message)
  })
})
