import {
  type BandTable,
  type MicrophoneResponse,
  RecordingError,
  readBandTable,
  readMicrophoneFile,
} from '../../../acoustics/index.ts'
import { byteSource } from './byte-source.ts'
import type { Refused } from './compare-terms.ts'

/** A table of numbers in plain text is no larger, bytes. */
const mostBytes = 1_000_000
/** The file of a microphone, which is kept with the test, bytes: some hundred rows are usual, so many are ten thousand. */
const mostMicrophoneBytes = 200_000

/** A table of third-octave levels out of a file. */
export const bandTableFile = ({ file }: { file: Blob }): Promise<({ kind: 'table' } & BandTable) | Refused> =>
  read(file, (text) => ({ kind: 'table' as const, ...readBandTable(text) }))

/** A microphone's response out of its file. */
export const microphoneFile = ({
  file,
}: {
  file: Blob
}): Promise<({ kind: 'microphone' } & MicrophoneResponse) | Refused> =>
  read(file, (text) => ({ kind: 'microphone' as const, ...readMicrophoneFile(text) }), mostMicrophoneBytes)

async function read<T>(file: Blob, reader: (text: string) => T, most = mostBytes): Promise<T | Refused> {
  try {
    if (file.size === 0) throw new RecordingError({ kind: 'empty' }, 'The file is empty.')
    if (file.size > most) {
      throw new RecordingError(
        { kind: 'too-large', bytes: file.size, mostBytes: most },
        'The file is too large for a table.',
      )
    }
    const bytes = await byteSource(file).slice(0, file.size)
    // Spreadsheets write UTF-16 too, and begin it with this mark.
    const encoding = bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : 'utf-8'
    return reader(new TextDecoder(encoding).decode(bytes))
  } catch (error) {
    if (error instanceof RecordingError) return { kind: 'refused', problem: error.problem }
    throw error
  }
}
