/** What a file holds: one array a channel, full scale ±1. */
export type WavRecording = { sampleRateHz: number; channels: Float32Array[] }

const pcm = 1
const ieeeFloat = 3
const extensible = 0xfffe

/** Bytes 2 … 15 of the sub-format of an extensible file: the first two are the format's own number. */
const subFormatTail = [0, 0, 0, 0, 16, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71]

/** Length that a writer leaves when it does not know it: all that follows belongs to the chunk. */
const unknownLength = 0xffffffff

type Format = {
  kind: typeof pcm | typeof ieeeFloat
  channelCount: number
  sampleRateHz: number
  bytesPerSample: number
}

/**
 * The samples of a WAV file: PCM of 16, 24 or 32 bits, IEEE float of 32 or 64 bits, plain or extensible; any number of channels.
 *
 * An integer sample is divided by 2^(bits − 1), so that full scale is −1 … just below 1. A float is handed on as it is. A sample of
 * fewer valid bits than it takes room for lies in the upper ones and is read with the rest. 64-bit floats are rounded to 32.
 *
 * @param bytes  the whole file
 * @returns  sample rate, Hz, and a Float32Array for each channel, all of one length (0 for a file without a sample)
 * @throws Error  in the reader's words, with what is allowed: for a file that is no WAV, is cut short, has no sound in it, or holds it
 *                in another way (8 bits, compressed), or has a sample that is no number
 * Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft 1991), chapter 3; the sub-format of
 *         extensible files and the order of the chunks: value from memory.
 */
export function readWav(bytes: Uint8Array): WavRecording {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (bytes.length < 12 || textAt(view, 0) !== 'RIFF' || textAt(view, 8) !== 'WAVE') {
    throw new Error(
      'This is no WAV file; allowed is a WAV file with PCM of 16, 24 or 32 bits or float of 32 or 64 bits.',
    )
  }
  let format: Format | undefined
  // A chunk of odd length is followed by one byte of padding.
  for (let at = 12; at + 8 <= bytes.length; ) {
    const name = textAt(view, at)
    const from = at + 8
    const said = view.getUint32(at + 4, true)
    const length = said === unknownLength && name === 'data' ? bytes.length - from : said
    if (from + length > bytes.length) {
      throw new Error(
        `The WAV file is cut short: its part '${name.trim()}' should have ${length} bytes and has ${bytes.length - from}. Copy it again.`,
      )
    }
    if (name === 'fmt ') format = readFormat(view, from, length)
    if (name === 'data') {
      if (!format) throw new Error('The WAV file does not say how its samples are stored before they begin.')
      return { sampleRateHz: format.sampleRateHz, channels: readSamples(view, from, length, format) }
    }
    at = from + length + (length % 2)
  }
  throw new Error('The WAV file has no samples in it.')
}

const textAt = (view: DataView, at: number): string =>
  String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3))

function readFormat(view: DataView, at: number, length: number): Format {
  if (length < 16)
    throw new Error(`The WAV file says how its samples are stored in ${length} bytes; allowed is 16 or more.`)
  const tag = view.getUint16(at, true)
  const channelCount = view.getUint16(at + 2, true)
  const sampleRateHz = view.getUint32(at + 4, true)
  const bytesPerFrame = view.getUint16(at + 12, true)
  const bits = view.getUint16(at + 14, true)
  const kind = tag === extensible ? subFormat(view, at, length) : tag
  if (kind !== pcm && kind !== ieeeFloat) {
    throw new Error(`The WAV file is compressed or of another kind (format ${kind}); allowed is PCM (1) or float (3).`)
  }
  const allowedBits = kind === pcm ? [16, 24, 32] : [32, 64]
  if (!allowedBits.includes(bits)) {
    throw new Error(
      `The WAV file has ${kind === pcm ? 'PCM' : 'float'} samples of ${bits} bits; allowed is ${allowedBits.join(', ').replace(/, (\d+)$/, ' or $1')}.`,
    )
  }
  if (channelCount === 0) throw new Error('The WAV file has 0 channels; allowed is 1 or more.')
  if (sampleRateHz === 0) throw new Error('The WAV file has a sample rate of 0 Hz; allowed is any above 0.')
  if (bytesPerFrame !== (channelCount * bits) / 8) {
    throw new Error(
      `The WAV file contradicts itself: ${channelCount} channels of ${bits} bits take ${(channelCount * bits) / 8} bytes, and it says ${bytesPerFrame}.`,
    )
  }
  return { kind, channelCount, sampleRateHz, bytesPerSample: bits / 8 }
}

/** The format's own number within an extensible file. */
function subFormat(view: DataView, at: number, length: number): number {
  const known = length >= 40 && subFormatTail.every((byte, index) => view.getUint8(at + 26 + index) === byte)
  if (!known) throw new Error('The WAV file stores its samples in a way of its own; allowed is PCM or float.')
  return view.getUint16(at + 24, true)
}

function readSamples(view: DataView, from: number, length: number, format: Format): Float32Array[] {
  const { kind, channelCount, bytesPerSample } = format
  const bytesPerFrame = channelCount * bytesPerSample
  const frames = Math.floor(length / bytesPerFrame)
  const sampleAt = sampleReader(view, kind, bytesPerSample)
  return Array.from({ length: channelCount }, (_, channel) => {
    const samples = new Float32Array(frames)
    for (let frame = 0; frame < frames; frame++) {
      const sample = sampleAt(from + frame * bytesPerFrame + channel * bytesPerSample)
      if (!Number.isFinite(sample)) {
        throw new Error(
          `Sample ${frame} of channel ${channel + 1} of the WAV file is ${sample}; allowed is any number.`,
        )
      }
      samples[frame] = sample
    }
    return samples
  })
}

function sampleReader(view: DataView, kind: Format['kind'], bytesPerSample: number): (at: number) => number {
  if (kind === ieeeFloat) {
    return bytesPerSample === 4 ? (at) => view.getFloat32(at, true) : (at) => Math.fround(view.getFloat64(at, true))
  }
  if (bytesPerSample === 2) return (at) => view.getInt16(at, true) / 2 ** 15
  if (bytesPerSample === 3) return (at) => (view.getUint16(at, true) + 2 ** 16 * view.getInt8(at + 2)) / 2 ** 23
  return (at) => view.getInt32(at, true) / 2 ** 31
}
