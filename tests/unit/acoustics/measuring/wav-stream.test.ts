import { Buffer } from 'node:buffer'
import { describe, expect, test } from 'vitest'
import { RecordingError } from '../../../../src/acoustics/measuring/recording-problem.ts'
import { type ByteSource, openWav, wavPieces } from '../../../../src/acoustics/measuring/wav-stream.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { chunk, format, pcm16, sourceOf, wavFile } from './wav-files.ts'

async function read(bytes: Uint8Array, source: ByteSource = sourceOf(bytes)): Promise<number[][]> {
  const layout = await openWav(source)
  const channels: number[][] = Array.from({ length: layout.channelCount }, () => [])
  for await (const piece of wavPieces(source, layout)) {
    piece.forEach((samples, channel) => {
      for (const sample of samples) channels[channel]?.push(sample)
    })
  }
  return channels
}

async function problemOf(bytes: Uint8Array): Promise<unknown> {
  const error = await openWav(sourceOf(bytes)).then(
    () => undefined,
    (reason: unknown) => reason,
  )
  expect(error).toBeInstanceOf(RecordingError)
  return (error as RecordingError).problem
}

const ramp = [0, 0.25, -0.5, 0.75, -1]
const plain = (): Uint8Array => pcm16([ramp], 48000)

describe('a WAV recording read piece by piece', () => {
  test('gives back what was written, channel by channel', async () => {
    const second = ramp.map((sample) => sample / 2)
    expect(await read(pcm16([ramp, second], 48000))).toEqual([ramp, second])
  })

  test('of many megabytes is never held as a whole', async () => {
    // Two gigabytes of silence that nobody stores: the source makes what is asked for.
    const head = wavFile([chunk('fmt ', format(1, 2, 48000, 16))])
    const size = 2 ** 31
    let mostAtOnce = 0
    const source: ByteSource = {
      size,
      slice: async (from, to) => {
        mostAtOnce = Math.max(mostAtOnce, to - from)
        const bytes = new Uint8Array(Math.min(size, to) - from)
        if (from < head.length) bytes.set(head.subarray(from, to))
        if (from === head.length) bytes.set([...Buffer.from('data'), 0xff, 0xff, 0xff, 0xff])
        return bytes
      },
    }
    const layout = await openWav(source)
    expect(layout.frameCount).toBe(Math.floor((size - head.length - 8) / 4))
    for await (const [left] of wavPieces(source, layout, { fromFrame: layout.frameCount - 3_000_000, channels: [0] })) {
      expect(left?.length).toBeGreaterThan(0)
    }
    expect(mostAtOnce).toBeLessThanOrEqual(2 ** 20)
  })

  test('RF64 has its size elsewhere', async () => {
    const sizes = [...new Uint8Array(16), ...new Uint8Array(12)]
    sizes[8] = 4
    const bytes = wavFile(
      [chunk('ds64', sizes), chunk('fmt ', format(1, 1, 48000, 16)), chunk('data', [0, 64, 0, 32, 9, 9])],
      'RF64',
    )
    bytes.set([0xff, 0xff, 0xff, 0xff], bytes.length - 10)
    expect(await read(bytes)).toEqual([[0.5, 0.25]])
  })

  test('parts of odd length before the samples are passed over with their padding', async () => {
    const parts = [
      chunk('note', [1, 2, 3]),
      chunk('fmt ', format(1, 1, 48000, 16)),
      chunk('LIST', [5]),
      chunk('data', [0, 64]),
    ]
    expect(await read(wavFile(parts))).toEqual([[0.5]])
  })

  test('what is cut short is read as far as it goes, and says so', async () => {
    const cut = plain().subarray(0, plain().length - 3)
    expect((await openWav(sourceOf(cut))).isCutShort).toBe(true)
    expect(await read(cut)).toEqual([ramp.slice(0, 3)])
    expect((await openWav(sourceOf(plain()))).isCutShort).toBe(false)
  })

  test('every way of storing gives the same samples', async () => {
    const floats = new Uint8Array(Float32Array.from(ramp).buffer)
    const doubles = new Uint8Array(Float64Array.from(ramp).buffer)
    const long = new Uint8Array(Int32Array.from(ramp, (sample) => sample * 2 ** 31).buffer)
    const three = ramp.flatMap((sample) => {
      const value = (sample * 2 ** 23 + 2 ** 24) % 2 ** 24
      return [value & 255, (value >> 8) & 255, value >> 16]
    })
    const eight = ramp.map((sample) => 128 + 128 * sample)
    for (const [tag, bits, data] of [
      [3, 32, floats],
      [3, 64, doubles],
      [1, 32, long],
      [1, 24, three],
      [1, 8, eight],
    ] as const) {
      expect(
        await read(wavFile([chunk('fmt ', format(tag, 1, 48000, bits)), chunk('data', data)])),
        `${bits} bits`,
      ).toEqual([ramp])
    }
  })

  test.each([
    ['nothing', new Uint8Array(), { kind: 'empty' }],
    ['text', Uint8Array.from(Buffer.from('frequency;level\n63;80')), { kind: 'no-wav', looksLike: 'text' }],
    [
      'an MP3 under another name',
      Uint8Array.from([0xff, 0xfb, 0x90, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9]),
      { kind: 'no-wav', looksLike: 'mp3' },
    ],
    ['a FLAC', Uint8Array.from(Buffer.from('fLaC\0\0\0\0')), { kind: 'no-wav', looksLike: 'flac' }],
    ['other bytes', Uint8Array.from([0, 1, 2, 3, 4]), { kind: 'no-wav', looksLike: 'unknown' }],
    [
      'a compressed one',
      wavFile([chunk('fmt ', format(85, 1, 48000, 16)), chunk('data', [0, 0])]),
      { kind: 'compressed', format: 85 },
    ],
    [
      '12 bits',
      wavFile([chunk('fmt ', format(1, 1, 48000, 12)), chunk('data', [0, 0])]),
      { kind: 'sample-size', bits: 12, float: false },
    ],
    [
      'no channel',
      wavFile([chunk('fmt ', format(1, 0, 48000, 16)), chunk('data', [0, 0])]),
      { kind: 'channel-count', channelCount: 0 },
    ],
    [
      '384 kHz',
      wavFile([chunk('fmt ', format(1, 1, 384000, 16)), chunk('data', [0, 0])]),
      { kind: 'sample-rate', sampleRateHz: 384000 },
    ],
    ['no sample', wavFile([chunk('fmt ', format(1, 1, 48000, 16)), chunk('data', [])]), { kind: 'no-samples' }],
    ['no data', wavFile([chunk('fmt ', format(1, 1, 48000, 16))]), { kind: 'no-samples' }],
    ['an end in the middle of the head', plain().subarray(0, 30), { kind: 'cut-short' }],
    ['samples before their format', wavFile([chunk('data', [0, 0])]), { kind: 'no-format' }],
    [
      'contradiction',
      wavFile([chunk('fmt ', [...format(1, 2, 48000, 16).slice(0, 12), 3, 0, 16, 0]), chunk('data', [0, 0])]),
      { kind: 'contradiction', bytesPerFrame: 3, expected: 4 },
    ],
  ])('%s is refused by its name', async (_, bytes, problem) => {
    expect(await problemOf(bytes)).toEqual(problem)
  })

  test('a sample that is no number is refused with its time', async () => {
    const floats = new Uint8Array(Float32Array.of(0, 0.5, Number.NaN).buffer)
    const bytes = wavFile([chunk('fmt ', format(3, 1, 8000, 32)), chunk('data', floats)])
    await expect(read(bytes)).rejects.toMatchObject({ problem: { kind: 'no-number', channel: 0, timeS: 2 / 8000 } })
  })

  test('a thousand damaged files are read or refused, and nothing else', async () => {
    const random = seededRandom(20)
    const pick = (below: number) => Math.floor(random() * below)
    const sound = Array.from({ length: 400 }, () => random() - 0.5)
    const sources = [
      pcm16([sound, sound], 48000),
      wavFile([
        chunk('LIST', [1, 2, 3]),
        chunk('fmt ', format(3, 1, 44100, 32)),
        chunk('data', new Uint8Array(Float32Array.from(sound).buffer)),
      ]),
      wavFile(
        [
          chunk('ds64', new Uint8Array(28)),
          chunk('fmt ', [...format(0xfffe, 1, 48000, 24), ...Array(24).fill(0)]),
          chunk('data', Array(600).fill(7)),
        ],
        'RF64',
      ),
    ]
    let taken = 0
    for (let n = 0; n < 1000; n++) {
      let bytes = (sources[pick(sources.length)] as Uint8Array).slice()
      // Most damage is to the head, where it matters.
      for (let damage = 1 + pick(4); damage > 0; damage--) bytes[pick(random() < 0.8 ? 80 : bytes.length)] = pick(256)
      if (random() < 0.2) bytes = bytes.subarray(0, pick(bytes.length))
      if (random() < 0.1) bytes = Uint8Array.from([...bytes.subarray(0, pick(60)), ...bytes.subarray(pick(60))])
      try {
        const channels = await read(bytes)
        expect(channels.flat().every(Number.isFinite)).toBe(true)
        taken += 1
      } catch (error) {
        expect(error, `file ${n}: ${String(error)}`).toBeInstanceOf(RecordingError)
      }
    }
    expect(taken).toBeGreaterThan(100)
    expect(taken).toBeLessThan(900)
  })
})
