import { Buffer } from 'node:buffer'
import type { ByteSource } from '../../../../src/acoustics/measuring/wav-stream.ts'

const number = (value: number, bytes: number): number[] =>
  Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** i) % 256)

export const chunk = (name: string, body: ArrayLike<number>): number[] => [
  ...Buffer.from(name),
  ...number(body.length, 4),
  ...Array.from(body),
  ...(body.length % 2 ? [0] : []),
]

export const format = (tag: number, channels: number, rateHz: number, bits: number): number[] => [
  ...number(tag, 2),
  ...number(channels, 2),
  ...number(rateHz, 4),
  ...number((rateHz * channels * bits) / 8, 4),
  ...number((channels * bits) / 8, 2),
  ...number(bits, 2),
]

/** A WAV file out of its parts. */
export function wavFile(parts: number[][], id = 'RIFF'): Uint8Array {
  const body = [...Buffer.from('WAVE'), ...parts.flat()]
  return Uint8Array.from([...Buffer.from(id), ...number(body.length, 4), ...body])
}

/** A 16-bit file of some channels of one length, full scale ±1. */
export function pcm16(channels: ArrayLike<number>[], sampleRateHz: number): Uint8Array {
  const frames = channels[0]?.length ?? 0
  const data = new Uint8Array(2 * channels.length * frames)
  const view = new DataView(data.buffer)
  for (let frame = 0; frame < frames; frame++) {
    channels.forEach((samples, channel) => {
      const value = Math.max(-32768, Math.min(32767, Math.round((samples[frame] as number) * 32768)))
      view.setInt16(2 * (frame * channels.length + channel), value, true)
    })
  }
  const head = wavFile([chunk('fmt ', format(1, channels.length, sampleRateHz, 16))])
  const bytes = new Uint8Array(head.length + 8 + data.length)
  bytes.set(head)
  bytes.set([...Buffer.from('data'), ...number(data.length, 4)], head.length)
  bytes.set(data, head.length + 8)
  new DataView(bytes.buffer).setUint32(4, bytes.length - 8, true)
  return bytes
}

export const sourceOf = (bytes: Uint8Array): ByteSource => ({
  size: bytes.length,
  slice: async (from, to) => bytes.slice(from, to),
})
