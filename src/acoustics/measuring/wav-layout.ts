import { RecordingError, type RecordingProblem } from './recording-problem.ts'

/** Where the samples of a WAV file lie, and how they are stored. */
export type WavLayout = {
  kind: 'pcm' | 'float'
  channelCount: number
  sampleRateHz: number
  bytesPerSample: number
  /** First byte of the samples, and how many whole frames (one sample a channel) there are. */
  dataFrom: number
  frameCount: number
  /** True if the file ends before the samples that it speaks of. */
  isCutShort: boolean
}

/** A part of the file that is wanted, from … to (excluded). */
export type ByteRange = { from: number; to: number }

const pcm = 1
const ieeeFloat = 3
const extensible = 0xfffe

/** Bytes 2 … 15 of the sub-format of an extensible file: the first two are the format's own number. */
const subFormatTail = [0, 0, 0, 0, 16, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71]

/** Length that a writer leaves when it does not know it, or that stands elsewhere because it is too large. */
const unknownLength = 0xffffffff

/** More parts before the samples than these are not looked through. */
const mostParts = 1000

type Format = Pick<WavLayout, 'kind' | 'channelCount' | 'sampleRateHz' | 'bytesPerSample'>

/**
 * Looks through a WAV file for its samples, asking for a few bytes at a time: yields the range that it wants next and is given its
 * bytes. RIFF and RF64 (sizes of 64 bits); parts of odd length, unknown parts and lengths that are unknown or wrong are taken
 * as they are. What ends before its last sample is taken as far as it goes.
 *
 * @param size  bytes of the whole file
 * @returns  the layout; frameCount may be 0
 * @throws RecordingError  for what is no WAV file, is compressed, or contradicts itself
 * Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft 1991), chapter 3; RF64: EBU Tech 3306;
 *         the sub-format of extensible files: value from memory.
 */
export function* wavLayout(size: number): Generator<ByteRange, WavLayout, Uint8Array> {
  if (size === 0) throw refused({ kind: 'empty' }, 'The file is empty.')
  const head = viewOf(yield { from: 0, to: Math.min(size, 12) })
  const id = textAt(head, 0)
  if ((id !== 'RIFF' && id !== 'RF64') || head.byteLength < 12 || textAt(head, 8) !== 'WAVE') {
    throw refused(
      { kind: 'no-wav', looksLike: looksLike(head) },
      'This is no WAV file; allowed is PCM or float in a WAV file.',
    )
  }
  let format: Format | undefined
  let dataBytes: number | undefined
  let at = 12
  for (let part = 0; part < mostParts && at + 8 <= size; part++) {
    const about = viewOf(yield { from: at, to: at + 8 })
    if (about.byteLength < 8) break
    const name = textAt(about, 0)
    const said = about.getUint32(4, true)
    const from = at + 8
    if (name === 'data') {
      if (!format) {
        throw refused({ kind: 'no-format' }, 'The WAV file does not say how its samples are stored before they begin.')
      }
      const wanted = said === unknownLength ? (dataBytes ?? size - from) : said
      const bytesPerFrame = format.channelCount * format.bytesPerSample
      return {
        ...format,
        dataFrom: from,
        frameCount: Math.floor(Math.min(wanted, size - from) / bytesPerFrame),
        isCutShort: wanted > size - from,
      }
    }
    if (name === 'fmt ') format = readFormat(viewOf(yield { from, to: Math.min(size, from + Math.min(said, 40)) }))
    if (name === 'ds64' && said >= 16) {
      const sizes = viewOf(yield { from, to: Math.min(size, from + 16) })
      if (sizes.byteLength >= 16) dataBytes = Number(sizes.getBigUint64(8, true))
    }
    // A part of odd length is followed by one byte of padding.
    at = from + said + (said % 2)
  }
  if (!format || at > size) {
    throw refused({ kind: 'cut-short' }, 'The WAV file is cut short: it ends before its samples begin. Copy it again.')
  }
  throw refused({ kind: 'no-samples' }, 'The WAV file has no samples in it.')
}

const refused = (problem: RecordingProblem, message: string): RecordingError => new RecordingError(problem, message)

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)

const textAt = (view: DataView, at: number): string =>
  at + 4 <= view.byteLength ? String.fromCharCode(...[0, 1, 2, 3].map((i) => view.getUint8(at + i))) : ''

/** What a file that is no WAV begins like. The first bytes of these formats: value from memory. */
function looksLike(head: DataView): (RecordingProblem & { kind: 'no-wav' })['looksLike'] {
  const id = textAt(head, 0)
  if (id === 'RIFX') return 'big-endian'
  if (id === 'fLaC') return 'flac'
  if (id === 'OggS') return 'ogg'
  if (id === 'FORM') return 'aiff'
  if (textAt(head, 4) === 'ftyp') return 'mp4'
  const [first = 0, second = 0] = [head.getUint8(0), head.byteLength > 1 ? head.getUint8(1) : 0]
  if (id.startsWith('ID3') || (first === 0xff && (second & 0xe0) === 0xe0)) return 'mp3'
  for (let i = 0; i < head.byteLength; i++) {
    const byte = head.getUint8(i)
    const isText = byte === 9 || byte === 10 || byte === 13 || (byte >= 32 && byte !== 127)
    if (!isText) return 'unknown'
  }
  return 'text'
}

function readFormat(view: DataView): Format {
  if (view.byteLength < 16) {
    throw refused(
      { kind: 'cut-short' },
      `The WAV file says how its samples are stored in ${view.byteLength} bytes; allowed is 16 or more.`,
    )
  }
  const tag = view.getUint16(0, true)
  const channelCount = view.getUint16(2, true)
  const sampleRateHz = view.getUint32(4, true)
  const bytesPerFrame = view.getUint16(12, true)
  const bits = view.getUint16(14, true)
  const format = tag === extensible ? subFormat(view) : tag
  if (format === extensible) {
    throw refused(
      { kind: 'compressed', format },
      'The WAV file stores its samples in a way of its own; allowed is PCM or float.',
    )
  }
  if (format !== pcm && format !== ieeeFloat) {
    throw refused(
      { kind: 'compressed', format },
      `The WAV file is compressed or of another kind (format ${format}); allowed is PCM (1) or float (3).`,
    )
  }
  const allowedBits = format === pcm ? [8, 16, 24, 32] : [32, 64]
  if (!allowedBits.includes(bits)) {
    throw refused(
      { kind: 'sample-size', bits, float: format === ieeeFloat },
      `The WAV file has ${format === pcm ? 'PCM' : 'float'} samples of ${bits} bits; allowed is ${allowedBits.join(', ').replace(/, (\d+)$/, ' or $1')}.`,
    )
  }
  if (channelCount === 0) {
    throw refused({ kind: 'channel-count', channelCount }, 'The WAV file has 0 channels; allowed is 1 or more.')
  }
  if (sampleRateHz === 0) {
    throw refused(
      { kind: 'sample-rate', sampleRateHz },
      'The WAV file has a sample rate of 0 Hz; allowed is any above 0.',
    )
  }
  const expected = (channelCount * bits) / 8
  if (bytesPerFrame !== expected) {
    throw refused(
      { kind: 'contradiction', bytesPerFrame, expected },
      `The WAV file contradicts itself: ${channelCount} channels of ${bits} bits take ${expected} bytes, and it says ${bytesPerFrame}.`,
    )
  }
  return { kind: format === pcm ? 'pcm' : 'float', channelCount, sampleRateHz, bytesPerSample: bits / 8 }
}

/** The format's own number within an extensible file; 0xfffe itself if it is none of those of the standard. */
function subFormat(view: DataView): number {
  const known = view.byteLength >= 40 && subFormatTail.every((byte, index) => view.getUint8(26 + index) === byte)
  return known ? view.getUint16(24, true) : extensible
}
