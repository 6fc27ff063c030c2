import { requireInRange } from '../numeric-range.ts'
import { seededRandom } from './seeded-random.ts'

/** How samples are stored: whole numbers of 16 or 24 bits, or floats of 32 bits. */
export type WavKind = 'pcm16' | 'pcm24' | 'float32'

const bytesOf = { pcm16: 2, pcm24: 3, float32: 4 } as const
const headerBytes = 44

/**
 * A WAV file of the plain kind, which every desk and player reads.
 *
 * Whole numbers are dithered with two uniform random numbers of one step each (triangular density), so that what rounding adds is steady noise
 * that knows nothing of the signal. A sample at or above full scale becomes the highest number.
 *
 * @param recording  sample rate, a whole number from 1 to 384 000 Hz; 1 … 64 channels of one length, finite samples of −1 … 1
 * @param kind       pcm24 unless given
 * @param seed       of the dither, any whole number; the same file for the same seed
 * @returns  the bytes of the file
 * @throws   RangeError for arguments out of range, channels of unlike lengths, or more than a WAV file holds (4 GB)
 * Source:   Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft 1991), chapter 3; the dither: Lipshitz, Wannamaker
 *           & Vanderkooy 1992.
 * Accuracy: rounding and dither together are noise of a mean square of a quarter of a squared step: −98 dB re full scale squared for 16 bits.
 */
export function writeWav(
  recording: { sampleRateHz: number; channels: readonly ArrayLike<number>[] },
  kind: WavKind = 'pcm24',
  seed = 1,
): Uint8Array<ArrayBuffer> {
  const { sampleRateHz, channels } = recording
  const count = requireInRange('channels.length', channels.length, { min: 1, max: 64, integer: true })
  const frames = channels[0]?.length ?? 0
  for (const [i, channel] of channels.entries()) {
    requireInRange(`channels[${i}].length`, channel.length, { min: frames, max: frames })
  }
  const sampleBytes = bytesOf[kind]
  const header = wavHeader({ sampleRateHz, channelCount: count, frameCount: frames }, kind)
  const dataBytes = frames * count * sampleBytes
  // A part of odd length is followed by one byte of padding.
  const file = new Uint8Array(headerBytes + dataBytes + (dataBytes % 2))
  file.set(header)
  const view = new DataView(file.buffer)
  const put = putterOf(view, kind, seed)
  for (let n = 0, at = headerBytes; n < frames; n++) {
    for (let c = 0; c < count; c++, at += sampleBytes) {
      const sample = channels[c]?.[n] as number
      if (!(sample >= -1 && sample <= 1)) requireInRange(`channels[${c}][${n}]`, sample, { min: -1, max: 1 })
      put(at, sample)
    }
  }
  return file
}

/**
 * The first 44 bytes of a WAV file of the plain kind; the samples of all channels at one moment, then those of the next, come behind it, and a
 * byte of padding if their bytes are odd in number.
 *
 * @param of    sample rate and channels as in writeWav; frameCount, how many samples each channel has
 * @param kind  how each of them is stored
 * @returns  the bytes
 * @throws   RangeError for a value out of range, or more than a WAV file holds (4 GB)
 * Source:   as writeWav
 */
export function wavHeader(
  of: { sampleRateHz: number; channelCount: number; frameCount: number },
  kind: WavKind,
): Uint8Array<ArrayBuffer> {
  const sampleRateHz = requireInRange('sampleRateHz', of.sampleRateHz, {
    min: 1,
    max: 384000,
    integer: true,
    unit: 'Hz',
  })
  const channelCount = requireInRange('channelCount', of.channelCount, { min: 1, max: 64, integer: true })
  const frameCount = requireInRange('frameCount', of.frameCount, { min: 0, integer: true })
  const sampleBytes = bytesOf[kind]
  const dataBytes = requireInRange('bytes of sound', frameCount * channelCount * sampleBytes, { max: 2 ** 32 - 100 })
  const view = new DataView(new ArrayBuffer(headerBytes))
  writeText(view, 0, 'RIFF')
  view.setUint32(4, headerBytes - 8 + dataBytes + (dataBytes % 2), true)
  writeText(view, 8, 'WAVEfmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, kind === 'float32' ? 3 : 1, true)
  view.setUint16(22, channelCount, true)
  view.setUint32(24, sampleRateHz, true)
  view.setUint32(28, sampleRateHz * channelCount * sampleBytes, true)
  view.setUint16(32, channelCount * sampleBytes, true)
  view.setUint16(34, 8 * sampleBytes, true)
  writeText(view, 36, 'data')
  view.setUint32(40, dataBytes, true)
  return new Uint8Array(view.buffer)
}

function putterOf(view: DataView<ArrayBuffer>, kind: WavKind, seed: number): (at: number, sample: number) => void {
  if (kind === 'float32') return (at, sample) => view.setFloat32(at, sample, true)
  const random = seededRandom(requireInRange('seed', seed, { integer: true }))
  const full = 2 ** (8 * bytesOf[kind] - 1)
  const whole = (sample: number) => Math.max(-full, Math.min(full - 1, Math.round(sample * full + random() - random())))
  if (kind === 'pcm16') return (at, sample) => view.setInt16(at, whole(sample), true)
  return (at, sample) => {
    const value = whole(sample)
    view.setUint16(at, value & 0xffff, true)
    view.setInt8(at + 2, value >> 16)
  }
}

function writeText(view: DataView, at: number, text: string): void {
  for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i))
}
