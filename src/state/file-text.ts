/** More than any text that is taken here has: 12 million characters of up to four bytes. */
const mostBytes = 48_000_001

/**
 * The text of a file that a reader has chosen. Of a huge one only so much is read that whoever takes the text finds it too long.
 *
 * @returns  undefined where the device does not give it: the file was moved, changed or removed
 */
export const fileText = (file: Blob): Promise<string | undefined> =>
  file
    .slice(0, mostBytes)
    .text()
    .catch(() => undefined)
