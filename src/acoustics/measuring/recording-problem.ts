/** Why a recording, a table of bands or a microphone's file cannot be taken. */
export type RecordingProblem =
  /** The file has nothing in it. */
  | { kind: 'empty' }
  /** The device does not give the file's bytes: it was moved, changed or removed. */
  | { kind: 'unreadable' }
  /** It does not begin as a WAV file does; `looksLike` what it does look like. */
  | { kind: 'no-wav'; looksLike: 'text' | 'mp3' | 'flac' | 'ogg' | 'aiff' | 'mp4' | 'big-endian' | 'unknown' }
  /** It ends before its samples begin. */
  | { kind: 'cut-short' }
  | { kind: 'no-format' }
  | { kind: 'no-samples' }
  /** Its samples are compressed or stored in a way of their own: the number of the format. */
  | { kind: 'compressed'; format: number }
  | { kind: 'sample-size'; bits: number; float: boolean }
  | { kind: 'channel-count'; channelCount: number }
  | { kind: 'sample-rate'; sampleRateHz: number }
  /** What it says of itself cannot all be true. */
  | { kind: 'contradiction'; bytesPerFrame: number; expected: number }
  /** A sample is no number. */
  | { kind: 'no-number'; channel: number; timeS: number }
  /** It is shorter than the shortest block. */
  | { kind: 'too-short'; durationS: number; neededS: number }
  /** A recording of sweeps is transformed in one go, and longer than that allows. */
  | { kind: 'too-long'; durationS: number; mostS: number }
  /** A channel, from 0, of so many that were looked at, has no sweep in it, or one that is lost in other sound. */
  | { kind: 'no-sweep'; channel: number; of: number }
  /** A table: a line (from 1) that cannot be read, and what stands there. */
  | { kind: 'table-line'; line: number; text: string }
  | { kind: 'table-columns'; line: number; found: number; allowed: number }
  | { kind: 'table-empty' }
  | { kind: 'table-frequency'; line: number; frequencyHz: number }
  | { kind: 'table-level'; line: number; levelDb: number }
  | { kind: 'table-twice'; line: number; frequencyHz: number }
  | { kind: 'table-no-band' }
  | { kind: 'too-few-rows'; found: number; needed: number }
  | { kind: 'too-large'; bytes: number; mostBytes: number }

/** A recording, table or microphone's file that cannot be taken: the problem for those who have words for it, and a plain message. */
export class RecordingError extends Error {
  override readonly name = 'RecordingError'
  readonly problem: RecordingProblem

  constructor(problem: RecordingProblem, message: string) {
    super(message)
    this.problem = problem
  }
}
