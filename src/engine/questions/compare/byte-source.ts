import { type ByteSource, RecordingError } from '../../../acoustics/index.ts'

/**
 * The bytes of a file on the device, by the piece.
 *
 * @throws RecordingError  as a rejection of slice, if the device does not give them: the file was moved, changed or removed
 */
export const byteSource = (file: Blob): ByteSource => ({
  size: file.size,
  slice: async (from, to) => {
    try {
      return new Uint8Array(await file.slice(from, to).arrayBuffer())
    } catch {
      throw new RecordingError({ kind: 'unreadable' }, 'The file cannot be read any more. Choose it again.')
    }
  },
})
